"""Dates as tables and TOML files write them."""

import re
from datetime import date, datetime

from scheduler.tables.cell import Cell, DateOrder
from scheduler.tables.ranges import range_of
from scheduler.words import Fault, plus

DATE_ORDERS: tuple[DateOrder, ...] = ("iso", "day-month-year", "month-day-year")

_YEAR_FIRST = re.compile(r"(?P<y>[0-9]{4})([-/.])(?P<m>[0-9]{1,2})\2(?P<d>[0-9]{1,2})")
_DAY_FIRST = re.compile(r"(?P<d>[0-9]{1,2})([-/.])(?P<m>[0-9]{1,2})\2(?P<y>[0-9]{4})")
_MONTH_FIRST = re.compile(r"(?P<m>[0-9]{1,2})([-/.])(?P<d>[0-9]{1,2})\2(?P<y>[0-9]{4})")
_ISO = re.compile(r"(?P<y>[0-9]{4})-(?P<m>[0-9]{2})-(?P<d>[0-9]{2})")

_PATTERNS = {"iso": _YEAR_FIRST, "day-month-year": _DAY_FIRST, "month-day-year": _MONTH_FIRST}
_MARKS = {"iso": "-", "day-month-year": "/", "month-day-year": "/"}
_FORMATS = {"iso": "%Y{0}%m{0}%d", "day-month-year": "%d{0}%m{0}%Y", "month-day-year": "%m{0}%d{0}%Y"}
_EXAMPLES = {"iso": "2027-03-21", "day-month-year": "21/03/2027", "month-day-year": "03/21/2027"}
_WORDS = {"iso": "year-month-day", "day-month-year": "day-month-year", "month-day-year": "month-day-year"}


def date_format(order: DateOrder, mark: str | None = None) -> str:
    """How `strftime` writes dates in this order, with the mark between, or the usual one of the order."""
    return _FORMATS[order].format(mark or _MARKS[order])


def day(cell: Cell) -> date | Fault:
    """Reads a day: in a table in the order that farm.dates states, in TOML as a date or as text like 2027-03-21.

    A date of a workbook is one whatever farm.dates states.
    """
    if cell.style is None or not isinstance(cell.value, str):
        return _day_in_toml(cell)
    text, order = cell.value, cell.style.dates
    if order is None:
        return _any_order(cell, text)
    match = _PATTERNS[order].fullmatch(text) or (cell.style.iso_too and _YEAR_FIRST.fullmatch(text))
    if match:
        return _of_calendar(cell, match)
    return _day_number(cell, text) or _wrong_order(cell, order)


def _day_in_toml(cell: Cell) -> date | Fault:
    if isinstance(cell.value, date) and not isinstance(cell.value, datetime):
        return _plausible(cell, cell.value)
    match = _ISO.fullmatch(cell.value) if isinstance(cell.value, str) else None
    if match:
        return _of_calendar(cell, match)
    return cell.fault("expected a day, without a time", "write it as year-month-day, for example 2027-03-21")


def _any_order(cell: Cell, text: str) -> date | Fault:
    """Where the order is not known (farm.toml cannot be read): a day in any order, else a fault."""
    matches = [match for match in (pattern.fullmatch(text) for pattern in _PATTERNS.values()) if match]
    days = [_of_calendar(cell, match) for match in matches]
    known = next((one for one in days if not isinstance(one, Fault)), None)
    return known or cell.fault("expected a day", "write, for example, 2027-03-21")


def _day_number(cell: Cell, text: str) -> Fault | None:
    """The fault of a number in a workbook that would be a day if it were formatted as one."""
    zero = cell.style.day_zero if cell.style else None
    if zero is None or not re.fullmatch("[0-9]{1,6}", text):
        return None
    meant = plus(zero, int(text))
    return cell.fault("expected a date", f"if {meant} is meant, format the cell as a date")


def _wrong_order(cell: Cell, order: DateOrder) -> Fault:
    settings = "farm.toml" if cell.where.sheet is None else "the sheet farm"
    return cell.fault(
        f'expected a date written {_WORDS[order]} (`dates` in {settings} is "{order}")',
        f"write it like {_EXAMPLES[order]}, or state another order as `dates` in {settings}",
    )


def _of_calendar(cell: Cell, match: re.Match[str]) -> date | Fault:
    year, month, number = int(match["y"]), int(match["m"]), int(match["d"])
    try:
        return _plausible(cell, date(year, month, number))
    except ValueError:
        order = cell.style.dates if cell.style else "iso"
        if 1 <= number <= 12 < month <= 31 and order is not None and order != "iso":
            return _wrong_order(cell, order)
        return cell.fault("expected a day that the calendar has", "look up the day and write it anew")


def _plausible(cell: Cell, value: date) -> date | Fault:
    if value.year in range_of("year"):
        return value
    return cell.fault(range_of("year").expected, "write the year in four digits, for example 2027")
