"""Rows added to a table in a text file, or cells changed; all else stays as it was written, byte for byte."""

import codecs
import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal

from msgspec import Struct

from scheduler.tables.cell import DateOrder
from scheduler.tables.csv_table import separator_of
from scheduler.tables.days import date_format
from scheduler.tables.header import Columns

Cells = Mapping[str, "str | date | Decimal"]
_DATE = re.compile(r"[0-9]{1,4}([-/.])[0-9]{1,2}\1[0-9]{1,4}")


class RowChange(Struct, frozen=True):
    """Cells by column: of a new row at the end (row None), or to change in a row, the header counted as 1."""

    cells: Cells
    row: int | None = None


def changed_table(
    columns: Columns, content: bytes | None, like: bytes, dates: DateOrder, changes: Sequence[RowChange]
) -> bytes:
    """The file with the changes. The content has been read without a fault; None: a new file, written as `like` is.

    Separator, decimal sign, marks in dates, line ends and byte order mark stay. A column that the header lacks is added
    at its end. Rows that are not changed stay as they are.
    """
    table = _Table(columns, like if content is None else content, dates, is_new=content is None)
    for change in changes:
        table.take(change)
    return table.written()


class _Table:
    """The records of a table as they stand, each with its line end."""

    def __init__(self, columns: Columns, content: bytes, dates: DateOrder, is_new: bool) -> None:
        self._mark = codecs.BOM_UTF8 if content.startswith(codecs.BOM_UTF8) else b""
        text = content.decode("utf-8-sig")
        self._separator = separator_of(text, None if is_new else columns)
        self._end = "\r\n" if "\r\n" in text else "\n"
        self._records = list(_records(text, self._separator)) if not is_new else [self._line(columns.required)]
        self._header = [cell.strip() for cell in self._cells(0)]
        while self._header and not self._header[-1]:
            self._header.pop()
        self._dates = date_format(dates, self._date_mark())

    def take(self, change: RowChange) -> None:
        """Makes one change."""
        self._add_columns([name for name in change.cells if name not in self._header])
        written = {name: self._written(value) for name, value in change.cells.items()}
        if change.row is None:
            self._records[-1] = self._ended(self._records[-1])
            self._records.append(self._line([written.get(name, "") for name in self._header]))
            return
        cells = self._cells(change.row - 1)
        cells += [""] * (len(self._header) - len(cells))
        for name, value in written.items():
            cells[self._header.index(name)] = value
        self._replace(change.row - 1, cells)

    def written(self) -> bytes:
        """The file's bytes."""
        return self._mark + "".join(self._records).encode()

    def _add_columns(self, names: Sequence[str]) -> None:
        if names:
            self._header += names
            self._replace(0, self._header)

    def _replace(self, place: int, cells: Sequence[str]) -> None:
        old = self._records[place]
        end = old[len(old.rstrip("\r\n")) :]
        self._records[place] = self._line(cells).removesuffix(self._end) + end

    def _ended(self, record: str) -> str:
        return record if record.endswith(("\n", "\r")) else record + self._end

    def _line(self, cells: Sequence[str]) -> str:
        line = io.StringIO()
        csv.writer(line, delimiter=self._separator, lineterminator=self._end).writerow(cells)
        return line.getvalue()

    def _cells(self, place: int) -> list[str]:
        one = io.StringIO(self._records[place], newline="")
        return next(csv.reader(one, delimiter=self._separator, skipinitialspace=True), [])

    def _written(self, value: "str | date | Decimal") -> str:
        if isinstance(value, date):
            return value.strftime(self._dates)
        if isinstance(value, Decimal):
            return f"{value:f}".replace(".", "," if self._separator == ";" else ".")
        return value

    def _date_mark(self) -> str | None:
        """What stands between the figures of the first date in the table."""
        if "date" not in self._header:
            return None
        place = self._header.index("date")
        cells = (self._cells(row)[place : place + 1] for row in range(1, len(self._records)))
        found = (_DATE.fullmatch(cell.strip()) for one in cells for cell in one)
        return next((match[1] for match in found if match), None)


def _records(text: str, separator: str) -> Iterator[str]:
    """The records one by one, as they stand; a line break in quotes ends none."""
    lines = list(io.StringIO(text, newline=""))
    reader = csv.reader(iter(lines), delimiter=separator, skipinitialspace=True)
    before = 0
    for _ in reader:
        yield "".join(lines[before : reader.line_num])
        before = reader.line_num
