"""weather.csv and normals.csv."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from scheduler.farm.model import NormalMonth, WeatherDay
from scheduler.farm.names import ordered
from scheduler.tables import Columns, Fields, Gathered, Once, day, number, whole
from scheduler.words import Fault, Where

WEATHER = Columns(file="weather.csv", required=("date", "tmin", "tmax"), optional=("rain",), rows_limit="weather_rows")
NORMALS = Columns(file="normals.csv", required=("month", "tmin", "tmax"))


def read_weather(rows: Iterable[Fields]) -> Iterator[WeatherDay]:
    """The days of weather without a fault."""
    once = Once()
    for row in rows:
        weather = WeatherDay(
            day=row.need("date", day),
            tmin=row.need("tmin", number("temperature_c")),
            tmax=row.need("tmax", number("temperature_c")),
            rain=row.get("rain", number("rain_mm"), None),
        )
        ordered(row, "tmin", weather.tmin, "tmax", weather.tmax)
        if weather.day is not None:
            once.note(row, "date", weather.day, str(weather.day))
        if not row.failed:
            yield weather


def read_normals(rows: Iterable[Fields]) -> Iterator[NormalMonth]:
    """The months without a fault."""
    once = Once()
    for row in rows:
        month = NormalMonth(
            month=row.need("month", whole("month")),
            tmin=row.need("tmin", number("temperature_c")),
            tmax=row.need("tmax", number("temperature_c")),
        )
        ordered(row, "tmin", month.tmin, "tmax", month.tmax)
        if month.month is not None:
            once.note(row, "month", month.month, f"month {month.month}")
        if not row.failed:
            yield month


def check_all_months(normals: Sequence[NormalMonth], at: Where, gathered: Gathered) -> None:
    """Takes in a fault where some of the twelve months are missing; a table without any row is as good as none."""
    missing = [str(month) for month in range(1, 13) if month not in {normal.month for normal in normals}]
    if normals and missing:
        found = f"found no month {', '.join(missing)}"
        gathered.add(Fault(replace(at, column="month"), found, "expected all twelve months", "add them"))
