"""One located value of the keeper's files, and how a fault shows it."""

from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal
from typing import Literal, TypeVar

from msgspec import Struct, field

from scheduler.words import Fault, Where

DateOrder = Literal["iso", "day-month-year", "month-day-year"]

T = TypeVar("T")


class Style(Struct, frozen=True):
    """How a table writes numbers and dates. dates None: not known, because farm.toml does not say it readably.

    Of a sheet of a workbook: `letters` are its columns' letters by name, `day_zero` the day that its program counts
    days from, and `iso_too` says that dates may be written year first whatever `dates` is.
    """

    decimal_comma: bool = False
    dates: DateOrder | None = "iso"
    letters: Mapping[str, str] = field(default_factory=dict)
    day_zero: date | None = None
    iso_too: bool = False


class Odd(Struct, frozen=True):
    """What stands in a cell of a workbook and is no value: an error, or a formula without its result."""

    found: str
    expected: str
    mend: str

    def fault(self, where: Where) -> Fault:
        """The fault of the cell that it stands in."""
        return Fault(where, f"found {self.found}", self.expected, self.mend)


class Cell(Struct, frozen=True):
    """A value and its place. In a table (`style` given) it is trimmed text, in TOML whatever TOML makes of it.

    In a sheet of a workbook it may be a date, a time or true or false too.
    """

    value: object
    where: Where
    style: Style | None = None

    @property
    def shown(self) -> str:
        """The value as a fault shows it, shortened."""
        return shown(self.value)

    def fault(self, expected: str, mend: str) -> Fault:
        """The fault that this value is not what was expected."""
        return Fault(self.where, found=f"found {self.shown}", expected=expected, mend=mend)


Reader = Callable[[Cell], T | Fault]
"""Reads one cell: gives its value, or the fault that stands in it."""


def shown(value: object) -> str:
    """A value as a fault shows it: text in quotation marks, nothing longer than a line, no control characters."""
    if isinstance(value, str):
        return f'"{_short(value)}"'
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | Decimal):
        return _number(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Odd):
        return value.found
    if isinstance(value, dict):
        return "a table"
    return "a list" if isinstance(value, list) else _short(str(value))


def _number(value: int | Decimal) -> str:
    if isinstance(value, int) and value.bit_length() > 200:
        return "a number of very many digits"
    return _short(str(value))


def _short(text: str) -> str:
    plain = "".join(letter if letter.isprintable() else "?" for letter in text[:61])
    return plain if len(text) <= 60 else plain[:60] + "…"
