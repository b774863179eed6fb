"""A sheet's XML (ECMA-376, part 1, 18.3), looked through and written anew with nothing but its numbers and dates.

The library that reads those ends the whole program on references that no spreadsheet program writes, and reserves
room for every cell of the rectangle from the first cell to the last. So it is given this copy: rows that hold anything
follow one another and references are counted anew. Texts, and what is no value, are kept apart.
"""

import re
from collections.abc import Sequence
from contextlib import suppress
from html import escape

from msgspec import Struct, field

from scheduler.tables.cell import Odd
from scheduler.tables.limits import limit
from scheduler.tables.xlsx_texts import plain_text
from scheduler.tables.xlsx_xml import Attributes, BrokenXml, walk

_NUMBER = re.compile(r"[1-9][0-9]{0,6}")
_REFERENCE = re.compile(rf"([A-Z]{{1,3}})({_NUMBER.pattern})")
_MOST_ROWS = 1_048_576
_MOST_COLUMNS = 16_384
_OUTSIDE = _MOST_COLUMNS  # the column between two rows: no cell may follow
_NO_RESULT = Odd("a formula without its result", "expected a value", "save the workbook in your spreadsheet program")
_MEND_ERROR = "mend its formula, or write the value"


class Scanned(Struct):
    """A sheet written anew. Of each row that holds anything: its number, and by column from 0 what was kept apart.

    `merged` are the ranges of merged cells, by first and last column and row. `beyond` is the row after which no more
    was read, if any; `columns` how many columns the sheet takes up.
    """

    xml: bytes = b""
    numbers: list[int] = field(default_factory=list)
    apart: list[dict[int, str | Odd]] = field(default_factory=list)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)
    columns: int = 0
    beyond: int | None = None


def scanned(part: bytes, texts: Sequence[str], most_rows: int) -> Scanned:
    """The sheet as written anew, with at most so many rows. Raises BrokenXml where it cannot be read."""
    scan = _Scan(texts, most_rows)
    with suppress(_Enough):
        walk(part, scan.start, scan.end, scan.text)
    return scan.done()


def column_letters(index: int) -> str:
    """The letters of a column counted from 0, as spreadsheets name it: A, Z, AA."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def _place(reference: str) -> tuple[int, int]:
    """Row from 1 and column from 0 of a reference like C7."""
    match = _REFERENCE.fullmatch(reference)
    if match is None:
        raise BrokenXml
    column = 0
    for letter in match[1]:
        column = 26 * column + ord(letter) - ord("A") + 1
    if column > _MOST_COLUMNS or int(match[2]) > _MOST_ROWS:
        raise BrokenXml
    return int(match[2]), column - 1


class _Enough(Exception):
    """More rows than are read."""


class _Scan:
    """Takes in a sheet's elements in their order."""

    def __init__(self, texts: Sequence[str], most_rows: int) -> None:
        self._texts = texts
        self._most_rows = most_rows
        self._sheet = Scanned()
        self._lines: list[str] = []
        self._cells: list[str] = []
        self._apart: dict[int, str | Odd] = {}
        self._row, self._column = 0, _OUTSIDE
        self._kind, self._format = "n", ""
        self._text: list[str] = []
        self._takes_text = False
        self._aside = 0
        self._is_formula = False

    def start(self, name: str, attributes: Attributes) -> None:
        """The start of an element."""
        if name == "c":
            self._begin_cell(attributes)
        elif name == "row":
            self._begin_row(attributes.get("r"))
        elif name == "f":
            self._is_formula = True
        elif name in ("v", "t"):
            self._takes_text = not self._aside
        elif name == "rPh":
            self._aside += 1
        elif name == "mergeCell":
            self._merge(attributes.get("ref", ""))

    def end(self, name: str) -> None:
        """The end of an element."""
        if name == "c":
            self._end_cell()
        elif name == "row":
            self._end_row()
        elif name in ("v", "t"):
            self._takes_text = False
        elif name == "rPh":
            self._aside -= 1

    def text(self, text: str) -> None:
        """Text between elements."""
        if self._takes_text:
            self._text.append(text)

    def done(self) -> Scanned:
        """What was taken in."""
        head = '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
        self._sheet.xml = f"{head}<sheetData>{''.join(self._lines)}</sheetData></worksheet>".encode()
        return self._sheet

    def _begin_row(self, number: str | None) -> None:
        row = self._row + 1 if number is None else int(number) if _NUMBER.fullmatch(number) else 0
        if not self._row < row <= _MOST_ROWS:
            raise BrokenXml
        self._row, self._column = row, -1

    def _begin_cell(self, attributes: Attributes) -> None:
        reference = attributes.get("r")
        row, column = (self._row, self._column + 1) if reference is None else _place(reference)
        if row != self._row or column <= self._column or column >= _MOST_COLUMNS:
            raise BrokenXml
        self._column = column
        self._kind, self._format = attributes.get("t", "n"), attributes.get("s", "")
        self._text, self._is_formula, self._takes_text = [], False, False

    def _end_cell(self) -> None:
        content = "".join(self._text)
        if not (content or self._is_formula or self._kind == "e"):
            return
        if len(self._sheet.numbers) >= self._most_rows:
            self._sheet.beyond = self._row
            raise _Enough
        if self._kind in ("n", "d", "b") and content:
            self._cells.append(self._written(content))
            self._sheet.columns = max(self._sheet.columns, self._column + 1)
        else:
            value = self._kept_apart(content)
            if value != "":
                self._apart[self._column] = value
                self._sheet.columns = max(self._sheet.columns, self._column + 1)

    def _written(self, content: str) -> str:
        style = f' s="{int(self._format)}"' if self._format.isdecimal() and len(self._format) < 6 else ""
        place = f"{column_letters(self._column)}{len(self._lines) + 1}"
        return f'<c r="{place}" t="{self._kind}"{style}><v>{escape(content)}</v></c>'

    def _kept_apart(self, content: str) -> str | Odd:
        if self._kind == "e":
            return Odd(f"the error {content[:20] or 'without a name'}", "expected a value", _MEND_ERROR)
        if self._kind == "s" and content:
            return self._shared(content.strip())
        if self._kind in ("str", "inlineStr"):
            return plain_text(content)
        if self._is_formula:
            return _NO_RESULT
        raise BrokenXml

    def _shared(self, number: str) -> str:
        if not (number.isdecimal() and len(number) < 10 and int(number) < len(self._texts)):
            raise BrokenXml
        return self._texts[int(number)]

    def _end_row(self) -> None:
        self._column = _OUTSIDE
        if self._cells or self._apart:
            self._sheet.numbers.append(self._row)
            self._sheet.apart.append(self._apart)
            self._lines.append(f'<row r="{len(self._lines) + 1}">{"".join(self._cells)}</row>')
            self._cells, self._apart = [], {}

    def _merge(self, reference: str) -> None:
        first, _, last = reference.partition(":")
        (top, left), (bottom, right) = _place(first), _place(last or first)
        if len(self._sheet.merged) < limit("columns"):
            self._sheet.merged.append((left, right, top, bottom))
