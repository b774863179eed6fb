"""A weather station's own file, or a public service's, brought into the form of weather.csv."""

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from scheduler.farm.model import WeatherDay
from scheduler.farm.weather import WEATHER, read_weather
from scheduler.tables import DateOrder, Gathered, date_format, decoded, did_you_mean, limit, shown, table_rows
from scheduler.words import Fault, Faults, Where

_NO_READING = (
    "",
    "-",
    "--",
    "---",
    "na",
    "n/a",
    "nan",
    "null",
    "m",
    "-99.9",
    "-999",
    "-999.9",
    "-9999",
    "9999",
    "999.9",
)
"""How files write that there is no reading; common practice, no source."""
_TIME = re.compile(r"(?<=[0-9])[T ][0-9]{1,2}:.*$")
_TOGETHER = re.compile(r"([0-9]{4})([0-9]{2})([0-9]{2})")
_PARTS = re.compile(r"([0-9]+)[-/.]([0-9]+)[-/.]([0-9]+)")
_SEPARATORS = (",", ";", "\t")


class StationDays(Struct, frozen=True):
    """The days of a file with both readings, in order, and how many days it has without."""

    days: tuple[WeatherDay, ...]
    without: int


def read_station(file: str, content: bytes, columns: Mapping[str, str], dates: DateOrder) -> StationDays | Faults:
    """The days of a file, or all its faults, with the rows of the file.

    columns: the file's own name of each column of weather.csv; date, tmin and tmax must be among them. Lines before the
    header that has these names, comments (#) and other columns are passed over; a time after a date is cut off.
    dates: how the dates are written where they themselves do not show it.
    """
    gathered = Gathered()
    text = decoded(file, content)
    if isinstance(text, Fault):
        return Faults((text,))
    try:
        found = _below_header(file, text, columns)
    except csv.Error as error:
        unreadable = f"found a table that cannot be read ({error})"
        found = Fault(Where(file), unreadable, "expected cells parted by one separator", "look whether it is a table")
    if isinstance(found, Fault):
        return Faults((found,))
    header_row, table = found
    cells = [(row, one) for row, one in table if _has_readings(one)]
    order = _order([one["date"] for _, one in cells]) or dates
    lines = _lines(cells, header_row, list(columns), decimal_comma=any("," in one["tmin"] for _, one in cells))
    known = replace(WEATHER, file=file)
    days = tuple(read_weather(table_rows(known, lines.encode(), order, gathered), order))
    if gathered:
        return gathered.faults()
    if not days:
        lacking, mend = "found no day with both readings below the header", "look whether it is the right file"
        return Faults((Fault(Where(file, row=header_row), lacking, "expected some", mend),))
    return StationDays(tuple(sorted(days, key=lambda one: one.day)), len(table) - len(cells))


def weather_csv(days: Sequence[WeatherDay], dates: DateOrder) -> bytes:
    """The days as weather.csv, dates as the farm's tables write them; rain only where some day has it."""
    has_rain = any(day.rain is not None for day in days)
    how = date_format(dates)
    lines = [",".join(WEATHER.all if has_rain else WEATHER.required)]
    for day in days:
        rain = [] if not has_rain else ["" if day.rain is None else f"{day.rain:f}"]
        lines.append(",".join([day.day.strftime(how), f"{day.tmin:f}", f"{day.tmax:f}", *rain]))
    return ("\n".join(lines) + "\n").encode()


def _below_header(
    file: str, text: str, columns: Mapping[str, str]
) -> tuple[int, list[tuple[int, dict[str, str]]]] | Fault:
    """The header's row, and of every row below it the cells that are asked for, by the names of weather.csv."""
    seen: list[str] = []
    for separator in _SEPARATORS:
        records = _records(text, separator)
        for row, record in records:
            names = [cell.strip() for cell in record]
            if set(columns.values()) <= set(names):
                places = {name: names.index(own) for name, own in columns.items()}
                return row, [(below, _cells(cells, places)) for below, cells in records if any(cells)]
            if row <= limit("rows") and set(columns.values()) & set(names):
                seen = names
    lacking = [own for own in columns.values() if own not in seen]
    near = did_you_mean(lacking[0], [name for name in seen if name], "name the file's own columns with --columns")
    return Fault(Where(file), f"found no header with {', '.join(map(shown, columns.values()))}",
                 f"expected the column {shown(lacking[0])}", near)  # fmt: skip


def _records(text: str, separator: str) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, skipinitialspace=True)
    for row, cells in enumerate(reader, start=1):
        if not (cells and cells[0].startswith("#") and row > 1):
            yield row, [cell.strip() for cell in cells]


def _cells(record: Sequence[str], places: Mapping[str, int]) -> dict[str, str]:
    cells = {name: record[place] if place < len(record) else "" for name, place in places.items()}
    day = _TOGETHER.fullmatch(cells["date"])
    cells["date"] = "-".join(day.groups()) if day else _TIME.sub("", cells["date"])
    return {name: "" if cell.lower() in _NO_READING else cell for name, cell in cells.items()}


def _has_readings(cells: Mapping[str, str]) -> bool:
    return bool(cells["tmin"] and cells["tmax"])


def _order(days: Sequence[str]) -> DateOrder | None:
    """The order that the dates themselves show: some number over 12, or the year first; None where they do not."""
    parts = [match.groups() for match in map(_PARTS.fullmatch, days) if match]
    if any(len(first) == 4 for first, _, _ in parts):
        return "iso"
    if any(int(first) > 12 for first, _, _ in parts):
        return "day-month-year"
    return "month-day-year" if any(int(second) > 12 for _, second, _ in parts) else None


def _lines(
    table: Sequence[tuple[int, Mapping[str, str]]], header_row: int, names: Sequence[str], decimal_comma: bool
) -> str:
    """A table of weather.csv's own columns in which every row keeps the number that it has in the file."""
    separator = ";" if decimal_comma else ","
    lines = [""] * max([header_row, *(row for row, _ in table)])
    lines[0] = separator.join(names)
    for row, cells in table:
        quoted = ('"' + cells[name].replace('"', '""') + '"' for name in names)
        lines[row - 1] = separator.join(quoted)
    return "\n".join(lines) + "\n"
