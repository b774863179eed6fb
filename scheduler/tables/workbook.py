"""A workbook (ECMA-376, SpreadsheetML): its sheets by name, and the records of each."""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from msgspec import Struct
from msgspec.structs import replace

from scheduler.tables.cell import DateOrder, Style, shown
from scheduler.tables.fields import Fields
from scheduler.tables.gathered import Gathered
from scheduler.tables.header import Columns
from scheduler.tables.limits import limit
from scheduler.tables.records import Record, located_rows, too_many_rows
from scheduler.tables.xlsx_package import BrokenPackage, Package, values_of
from scheduler.tables.xlsx_parts import broken, unpacked
from scheduler.tables.xlsx_scan import Scanned, column_letters, scanned
from scheduler.tables.xlsx_xml import BrokenXml
from scheduler.words import Fault, Where

SHOWN_DIGITS = 15
"""Significant digits that spreadsheet programs keep of a number typed in and show; from memory."""


class Workbook(Struct, frozen=True):
    """An open workbook: the name of its file, and its parts."""

    file: str
    package: Package

    @property
    def sheets(self) -> Mapping[str, bool]:
        """The sheets by name, each with whether it is hidden."""
        return {sheet.name: sheet.hidden for sheet in self.package.sheets}

    def place(self, columns: Columns) -> Where:
        """The place of a table's sheet."""
        return Where(self.file, sheet=columns.sheet)

    def rows(self, columns: Columns, dates: DateOrder | None, gathered: Gathered) -> Iterator[Fields]:
        """The rows of a table's sheet that hold anything; none where it is absent. Faults are gathered on the way.

        Dates that are formatted as such are read whatever `dates` says; text as in a table of text.
        """
        at = self.place(columns)
        if columns.sheet not in self.sheets:
            return
        read = self._read(columns, at)
        if isinstance(read, Fault):
            gathered.stop(read)
            return
        sheet, records = read
        letters = {name: column_letters(index) for index, name in _names(records)}
        for fault in _merged_faults(sheet, letters, columns, at):
            gathered.add(fault)
        style = Style(dates=dates, letters=letters, day_zero=self.package.day_zero)
        yield from located_rows(columns, iter(records), at, style, gathered)
        if sheet.beyond is not None:
            gathered.stop(too_many_rows(columns, replace(at, row=sheet.beyond)))

    def _read(self, columns: Columns, at: Where) -> tuple[Scanned, list[Record]] | Fault:
        try:
            package = self.package
            part, most_rows = package.sheet_part(columns.sheet), limit(columns.rows_limit) + 1
            sheet = scanned(part, package.texts, most_rows)
            most = limit("sheet_cells")
            if len(sheet.numbers) * sheet.columns > most:
                found = f"found {len(sheet.numbers)} rows in {sheet.columns} columns"
                mend = "delete what stands far right of the table"
                return Fault(at, found, f"expected at most {most} cells in all", mend)
            return sheet, list(_records(sheet, values_of(package, sheet.xml)))
        except (BrokenXml, BrokenPackage):
            return replace(broken(self.file), where=at, found="found a sheet that cannot be read")


def open_workbook(file: str, content: bytes) -> Workbook | Fault:
    """The workbook of these bytes, or the fault that it cannot be read. Its sheets are looked at one by one later."""
    parts = unpacked(file, content)
    if isinstance(parts, Fault):
        return parts
    try:
        package = Package.of(parts)
    except (BrokenXml, BrokenPackage):
        return broken(file)
    if len(package.sheets) > limit("sheets"):
        found, expected = f"found {len(package.sheets)} sheets", f"expected at most {limit('sheets')}"
        return Fault(Where(file), found, expected, "look whether it is the right file")
    return Workbook(file, package)


def _records(sheet: Scanned, values: list[list[object]]) -> Iterator[Record]:
    """The rows that hold anything: what was kept apart, and for all else what the library read."""
    for index, (number, apart) in enumerate(zip(sheet.numbers, sheet.apart, strict=True)):
        read = values[index] if index < len(values) else []
        cells = [_as_written(cell) for cell in read] + [""] * (sheet.columns - len(read))
        for column, cell in apart.items():
            cells[column] = cell
        yield number, cells


def _as_written(value: object) -> object:
    """A cell's value as a table of text would hold it; dates, times, true and false as they are."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return value
    exact = Decimal(f"{value:.{SHOWN_DIGITS}g}")
    return f"{exact:f}" if exact.is_finite() else str(value)


def _names(records: list[Record]) -> Iterator[tuple[int, str]]:
    """The header's names with their columns, the first of a name."""
    if records and records[0][0] == 1:
        for index, name in reversed(list(enumerate(records[0][1]))):
            yield index, name.strip() if isinstance(name, str) else shown(name)


def _merged_faults(sheet: Scanned, letters: Mapping[str, str], columns: Columns, at: Where) -> Iterator[Fault]:
    """Merged cells in columns that are read: one value would stand for several rows, and be read for one."""
    known = {letters[name]: name for name in columns.all if name in letters}
    for left, right, top, bottom in sheet.merged:
        name = next((known[one] for one in map(column_letters, range(left, right + 1)) if one in known), None)
        if name is not None:
            cells = f"{column_letters(left)}{top} to {column_letters(right)}{bottom}"
            where = replace(at, row=top, column=name, letter=letters[name])
            mend = "take the merge apart, and write the value into each row that it is meant for"
            yield Fault(where, f"found the cells {cells} merged", "expected each cell on its own", mend)
