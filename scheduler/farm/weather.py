"""weather.csv and normals.csv."""

import re
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from decimal import Decimal

from msgspec.structs import replace

from scheduler.farm.model import NormalMonth, WeatherDay
from scheduler.farm.names import ordered
from scheduler.tables import Columns, DateOrder, Fields, Gathered, Once, day, number, range_of, whole
from scheduler.words import Fault, Where

WEATHER = Columns(file="weather.csv", required=("date", "tmin", "tmax"), optional=("rain",), rows_limit="weather_rows")
NORMALS = Columns(file="normals.csv", required=("month", "tmin", "tmax"))


_NUMBER = r"[0-9]{1,3}(?:\.[0-9]{1,3})?"
_DATES: dict[DateOrder, str] = {
    "iso": "(?P<y>[0-9]{4})-(?P<m>[0-9]{2})-(?P<d>[0-9]{2})",
    "day-month-year": "(?P<d>[0-9]{1,2})(?P<s>[-/.])(?P<m>[0-9]{1,2})(?P=s)(?P<y>[0-9]{4})",
    "month-day-year": "(?P<m>[0-9]{1,2})(?P<s>[-/.])(?P<d>[0-9]{1,2})(?P=s)(?P<y>[0-9]{4})",
}
_PLAIN_ROWS = {order: re.compile(f"{dates},-?{_NUMBER},-?{_NUMBER},(?:{_NUMBER})?") for order, dates in _DATES.items()}


def read_weather(rows: Iterable[Fields], dates: DateOrder | None = None) -> Iterator[WeatherDay]:
    """The days of weather without a fault. dates: how the table writes its dates, None where it is not known."""
    once, looks = Once(), _Looks()
    for row in rows:
        weather = _plain_day(row, dates) or WeatherDay(
            day=row.need("date", day),
            tmin=row.need("tmin", number("temperature_c")),
            tmax=row.need("tmax", number("temperature_c")),
            rain=row.get("rain", number("rain_mm"), None),
        )
        ordered(row, "tmin", weather.tmin, "tmax", weather.tmax)
        looks.note(row, weather.tmin, weather.tmax)
        if weather.day is not None:
            once.note(row, "date", weather.day, str(weather.day))
        if not row.failed:
            yield weather
    looks.check()


def _plain_day(row: Fields, dates: DateOrder | None) -> WeatherDay | None:
    """A row as most are written, read without the care that others need (there are thousands); None for any other."""
    cells = row.raw("date"), row.raw("tmin"), row.raw("tmax"), row.raw("rain")
    plain = None if dates is None or row.failed else _PLAIN_ROWS[dates].fullmatch(",".join(cells))
    if plain is None or row.has("rain") != bool(cells[3]):
        return None
    tmin, tmax, rain = Decimal(cells[1]), Decimal(cells[2]), Decimal(cells[3]) if cells[3] else None
    try:
        read = WeatherDay(day=date(int(plain["y"]), int(plain["m"]), int(plain["d"])), tmin=tmin, tmax=tmax, rain=rain)
    except ValueError:
        return None
    degrees = range_of("temperature_c")
    is_lawful = read.day.year in range_of("year") and tmin in degrees and tmax in degrees
    return read if is_lawful and (rain is None or rain in range_of("rain_mm")) else None


class _Looks:
    """What a whole table looks like: columns swapped, or degrees of another scale."""

    def __init__(self) -> None:
        self._means: list[tuple[Decimal, Fields]] = []
        self._swapped: list[Fields] = []

    def note(self, row: Fields, tmin: Decimal | None, tmax: Decimal | None) -> None:
        """Take in a row's temperatures, None where they could not be read."""
        if tmin is not None and tmax is not None:
            self._means.append(((tmin + tmax) / 2, row))
            if tmin > tmax:
                self._swapped.append(row)

    def check(self) -> None:
        """Once all rows are taken in: a fault for each thing that the table looks like."""
        rows = len(self._means)
        if 2 * len(self._swapped) > rows > 1:
            found = f"found tmin above tmax in {len(self._swapped)} of {rows} rows, the first of them here"
            mend = "the two columns look swapped: change their names in the header"
            self._swapped[0].fault("tmin", found, "expected the lower reading under tmin", mend)
        usual = range_of("usual_mean_c")
        warm = [row for mean, row in self._means if mean > usual.most]
        if 2 * len(warm) > rows:
            found = f"found a mean over {usual.most} in {len(warm)} of {rows} rows, the first of them here"
            mend = "they look like degrees Fahrenheit: write (F - 32) x 5 / 9"
            warm[0].fault("tmax", found, "expected degrees Celsius", mend)


def read_normals(rows: Iterable[Fields]) -> Iterator[NormalMonth]:
    """The months without a fault."""
    once, looks = Once(), _Looks()
    for row in rows:
        month = NormalMonth(
            month=row.need("month", whole("month")),
            tmin=row.need("tmin", number("temperature_c")),
            tmax=row.need("tmax", number("temperature_c")),
        )
        ordered(row, "tmin", month.tmin, "tmax", month.tmax)
        looks.note(row, month.tmin, month.tmax)
        if month.month is not None:
            once.note(row, "month", month.month, f"month {month.month}")
        if not row.failed:
            yield month
    looks.check()


def check_all_months(normals: Sequence[NormalMonth], at: Where, gathered: Gathered) -> None:
    """Takes in a fault where some of the twelve months are missing; a table without any row is as good as none."""
    missing = [str(month) for month in range(1, 13) if month not in {normal.month for normal in normals}]
    if normals and missing:
        found = f"found no month {', '.join(missing)}"
        gathered.add(Fault(replace(at, column="month"), found, "expected all twelve months", "add them"))
