"""Readers of single cells: a value, or the fault that stands in the cell."""

import re
import unicodedata
from collections.abc import Sequence
from decimal import Decimal
from typing import TypeVar

from scheduler.tables.cell import Cell, Reader
from scheduler.tables.limits import limit
from scheduler.tables.nearest import did_you_mean
from scheduler.tables.ranges import Range, range_of
from scheduler.words import Fault

W = TypeVar("W", bound=str)

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)")
_MARKS = re.compile(r"(?<=[0-9])[.,'’ \u00a0\u202f](?=[0-9])")
_WHOLE = re.compile(r"[+-]?[0-9]+")
_NOT_IN_NAMES = "/;#"
_KEPT_NAMES = ("all", "stay")


def number(range_name: str) -> Reader[Decimal]:
    """Reads a decimal number of the range of that name (ranges.toml), exact as written."""

    def read(cell: Cell) -> Decimal | Fault:
        return _within(cell, _exact(cell, _NUMBER), range_of(range_name))

    return read


def whole(range_name: str) -> Reader[int]:
    """Reads a whole number of the range of that name (ranges.toml)."""

    def read(cell: Cell) -> int | Fault:
        exact = _exact(cell, _WHOLE)
        if isinstance(cell.value, Decimal):
            exact = None
        value = _within(cell, exact, range_of(range_name))
        return value if isinstance(value, Fault) else int(value)

    return read


def _within(cell: Cell, value: Decimal | None, bounds: Range) -> Decimal | Fault:
    if value is not None and value in bounds:
        return value if value else Decimal(0)
    return cell.fault(bounds.expected, _mend(cell, value, bounds))


def _mend(cell: Cell, value: Decimal | None, bounds: Range) -> str:
    if bounds.share and value is None and isinstance(cell.value, str) and cell.value.endswith("%"):
        return f"write a part of one, for example {bounds.example}"
    if bounds.share and value is not None and 1 < value <= 100:
        return f"if {value} per cent is meant, write {(value / 100).normalize():f}"
    if value is None and cell.style is None and isinstance(cell.value, str):
        return f"write it without quotation marks, for example {bounds.example}"
    if value is None and _has_marks(cell.value):
        return f"write it without marks between thousands, and with a decimal point, for example {bounds.example}"
    how = "in digits" if value is None else "within that range"
    return f"write it {how}, for example {bounds.example}"


def _has_marks(value: object) -> bool:
    """Whether only marks between thousands, or a decimal comma, keep a cell from being a number."""
    text = value if isinstance(value, str) else ""
    return bool(_WHOLE.fullmatch(_MARKS.sub("", text))) and _MARKS.findall(text) not in ([], ["."])


def _exact(cell: Cell, pattern: re.Pattern[str]) -> Decimal | None:
    """The number as written; None where the cell holds none."""
    value = cell.value
    if cell.style is None or not isinstance(value, str):
        return _exact_in_toml(value)
    text = value
    if cell.style.decimal_comma and "." not in text:
        text = text.replace(",", ".")
    if len(text) > limit("number_digits") or not pattern.fullmatch(text):
        return None
    return Decimal(text)


def _exact_in_toml(value: object) -> Decimal | None:
    digits = limit("number_digits")
    if isinstance(value, Decimal):
        small = value.is_finite() and len(value.as_tuple().digits) <= digits and abs(value.adjusted()) <= digits
        return value if small else None
    if isinstance(value, int) and not isinstance(value, bool) and value.bit_length() <= 3 * digits:
        return Decimal(value)
    return None


def word(choices: Sequence[W]) -> Reader[W]:
    """Reads one of the words given."""

    def read(cell: Cell) -> W | Fault:
        for choice in choices:
            if choice == cell.value:
                return choice
        listed = ", ".join(choices)
        text = cell.value if isinstance(cell.value, str) else ""
        return cell.fault(f"expected one of: {listed}", did_you_mean(text, choices, "write one of these"))

    return read


def yes_no(cell: Cell) -> bool | Fault:
    """Reads yes or no in a table."""
    answer = word(("yes", "no"))(cell)
    return answer if isinstance(answer, Fault) else answer == "yes"


def switch(cell: Cell) -> bool | Fault:
    """Reads true or false; in a sheet as words too, and yes or no."""
    if isinstance(cell.value, bool):
        return cell.value
    if cell.style is not None:
        answers = {"true": True, "yes": True, "false": False, "no": False}
        answer = answers.get(cell.value.lower()) if isinstance(cell.value, str) else None
        return cell.fault("expected true or false", "write true or false") if answer is None else answer
    return cell.fault("expected true or false", "write true or false, without quotation marks")


def text(cell: Cell) -> str | Fault:
    """Reads text of any kind; line breaks may stand in it."""
    return _text(cell, allowed="\n\t\r")


def line(cell: Cell) -> str | Fault:
    """Reads text of one line, not empty."""
    value = _text(cell, allowed="\t")
    if isinstance(value, Fault) or value:
        return value
    return cell.fault("expected some text", "write it out")


def _text(cell: Cell, allowed: str) -> str | Fault:
    if not isinstance(cell.value, str):
        mend = "write it in quotation marks" if cell.style is None else "format the cell as text and write it anew"
        return cell.fault("expected text", mend)
    if len(cell.value) > limit("text_letters"):
        return cell.fault(f"expected at most {limit('text_letters')} letters", "shorten it")
    if any(_breaks(letter) and letter not in allowed for letter in cell.value):
        return cell.fault("expected text without control characters or line breaks here", "write it anew in one line")
    return cell.value.strip()


def _breaks(letter: str) -> bool:
    return unicodedata.category(letter) in ("Cc", "Zl", "Zp", "Cs")


def name(cell: Cell) -> str | Fault:
    """Reads the name of a group, mob or sale: one line that can be told apart from the words of cohort names."""
    value = line(cell)
    if isinstance(value, Fault):
        return value
    if len(value) > limit("name_letters"):
        return cell.fault(f"expected a name of at most {limit('name_letters')} letters", "shorten it")
    if any(letter in value for letter in _NOT_IN_NAMES):
        return cell.fault("expected a name without / ; and #", "write it without them")
    if value in _KEPT_NAMES or value.startswith("found-") or value.endswith(" weaned"):
        return cell.fault(
            'expected a name other than "all" and "stay", not beginning with "found-" nor ending in " weaned"',
            "choose another name",
        )
    return value


def listed(cell: Cell) -> tuple[str, ...] | Fault:
    """Reads names parted by semicolons, each once."""
    value = line(cell)
    if isinstance(value, Fault):
        return value
    names = tuple(part.strip() for part in value.split(";") if part.strip())
    if not names:
        return cell.fault("expected at least one name", "write names parted by ;")
    if len(set(names)) < len(names):
        return cell.fault("expected each name once", "delete what stands there twice")
    return names
