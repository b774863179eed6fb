"""Questions about one figure of a leaflet, and how a typed answer is read."""

import re
from collections.abc import Callable, Collection
from decimal import Decimal
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from scheduler.tables import Cell, Reader, Style, number, whole
from scheduler.words import Fault, Where

Path = tuple[str | int, ...]
"""The place of an answer: the keys of the label file, numbers counting from 0. `count`, `least`, `most` and `amount`
stand for the length of an array of tables, the ends of a pair, and the dose whichever way it is stated."""
Value = int | Decimal | str | tuple[str, Decimal] | tuple[str, ...] | bool | None
"""An answer; None: the leaflet does not state it. (key, number) is an amount: ml, ml_per_kg or ml_per_100cm2."""
Asked = Literal["twice", "once", "new"]
"""Figures are asked twice; words once, or only of a new label (those of a filed one are shown at the end)."""

_WEEKS = re.compile(r"([0-9]+) *(?:w|wk|weeks?)", re.IGNORECASE)
_AMOUNT = re.compile(r"([0-9.+-]+) *(?:ml)? *(?:(?:/|per|for each) *(kg|100 *cm(?:2|²)))?", re.IGNORECASE)
_KEYS = {"": "ml", "kg": "ml_per_kg"}


class Question(Struct, frozen=True):
    """Asks for what stands on the leaflet; `needed`: it must be stated. part: which part of the label it belongs to."""

    path: Path
    part: str
    text: str
    read: Reader[Value]
    needed: bool = False
    asked: Asked = "twice"

    @property
    def full(self) -> str:
        """The question with its part, so that it can be understood alone."""
        return f"{self.part}: {self.text}"

    def answered(self, typed: str) -> Value | Fault:
        """The value of a typed line, or what is wrong with it."""
        text = typed.strip()
        cell = Cell(text, Where(self.full), Style())
        if text:
            return self.read(cell)
        if self.needed:
            return Fault(cell.where, "found nothing", "the leaflet must state this", "look again, or ask the vet")
        return None


Ask = Callable[[Question], Value]


def days(range_name: str = "days") -> Reader[Value]:
    """Reads whole days, or weeks as `8 weeks`."""

    def read(cell: Cell) -> Value | Fault:
        weeks = _WEEKS.fullmatch(str(cell.value))
        return whole(range_name)(replace(cell, value=str(int(weeks[1]) * 7)) if weeks else cell)

    return read


def period(cell: Cell) -> Value | Fault:
    """Reads a withdrawal: days, weeks, or that it is not permitted."""
    if str(cell.value).casefold().replace(" ", "-") == "not-permitted":
        return "not-permitted"
    read = days()(cell)
    if isinstance(read, Fault):
        return replace(read, expected='expected whole days, 0 or more, or "not permitted"')
    return read


def amount(cell: Cell) -> Value | Fault:
    """Reads a dose: `20`, `0.5 per kg` or `2.5 per 100 cm2`."""
    match = _AMOUNT.fullmatch(str(cell.value))
    if match is None:
        return cell.fault("expected ml for one sheep, or ml per kg or per 100 cm2", "write 20, or 0.5 per kg")
    ml = number("ml")(replace(cell, value=match[1]))
    return ml if isinstance(ml, Fault) else (_KEYS.get((match[2] or "").lower(), "ml_per_100cm2"), ml)


def count(most: int, least: int = 0) -> Reader[Value]:
    """Reads how many of something there are."""

    def read(cell: Cell) -> Value | Fault:
        text = str(cell.value)
        if text.isdecimal() and len(text) < 4 and least <= int(text) <= most:
            return int(text)
        return cell.fault(f"expected a number from {least} to {most}", "write it in digits, for example 1")

    return read


def at_least(reader: Reader[Value], least: object, what: str, over: bool = False) -> Reader[Value]:
    """Reads a number that is not under `least` (over: not equal to it either), where there is one."""

    def read(cell: Cell) -> Value | Fault:
        value = reader(cell)
        if not isinstance(least, int | Decimal) or not isinstance(value, int | Decimal):
            return value
        if value > least or (value == least and not over):
            return value
        return cell.fault(f"expected {'more than' if over else 'at least'} {least}, {what}", "look again")

    return read


def other_than(reader: Reader[Value], earlier: Collection[object]) -> Reader[Value]:
    """Reads what may not be the same as an earlier answer."""

    def read(cell: Cell) -> Value | Fault:
        value = reader(cell)
        if isinstance(value, Fault) or value not in earlier:
            return value
        return cell.fault("expected another than before", "look again")

    return read


def entries(reader: Reader[str]) -> Reader[Value]:
    """Reads one or more words, parted by ; or ,"""

    def read(cell: Cell) -> Value | Fault:
        parts = [part.strip() for part in re.split("[;,]", str(cell.value)) if part.strip()]
        words = [reader(replace(cell, value=part)) for part in parts]
        fault = next((one for one in words if isinstance(one, Fault)), None)
        return fault or tuple(dict.fromkeys(one for one in words if not isinstance(one, Fault)))

    return read


def said(value: Value) -> str:
    """An answer as it is shown again."""
    if value is None:
        return "not stated"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple) and len(value) == 2 and isinstance(value[1], Decimal):
        return f"{value[1]} ml" + {"ml_per_kg": " for each kg", "ml_per_100cm2": " for each 100 cm2"}.get(value[0], "")
    return (
        ", ".join(map(str, value)) if isinstance(value, tuple) else str(value).replace("not-permitted", "not permitted")
    )
