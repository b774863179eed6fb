"""A header and the records under it -> the rows of a table, each cell with its place."""

from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from scheduler.tables.cell import Style, shown
from scheduler.tables.fields import Fields
from scheduler.tables.gathered import Gathered
from scheduler.tables.header import Columns, check_header
from scheduler.tables.limits import limit
from scheduler.words import Fault, Where

Record = tuple[int, list[object]]
"""A row's number, as a spreadsheet shows it, and its cells: text, or what a workbook holds besides."""


def located_rows(
    columns: Columns, records: Iterator[Record], at: Where, style: Style, gathered: Gathered
) -> Iterator[Fields]:
    """The rows that hold anything, one by one; faults of the header and of too many rows are gathered on the way.

    `at` is the place of the table. Empty rows count, but for those after the last that holds anything.
    """
    number, names = next(records, (1, []))
    header = _header(names if number == 1 else [])
    if not check_header(columns, header, replace(at, row=1), gathered):
        return
    lacking = frozenset(columns.required) - set(header)
    for row, cells in records:
        found = {column: cell for column, cell in zip(header, map(_trimmed, cells), strict=False) if cell != ""}
        beyond = next((cell for cell in map(_trimmed, cells[len(header) :]) if cell != ""), None)
        if not found and beyond is None:
            continue
        if row - 1 > limit(columns.rows_limit):
            gathered.stop(too_many_rows(columns, replace(at, row=row)))
            return
        fields = Fields(found, Where(at.file, row=row, sheet=at.sheet), gathered, style, lacking)
        nameless = found.get("", beyond)
        if nameless is not None:
            fields.add(_nameless(nameless, fields.at))
        yield fields


def _header(cells: Iterable[object]) -> list[str]:
    """The names of the columns, without the empty cells after the last of them."""
    names = [_trimmed(cell) for cell in cells]
    while names and names[-1] == "":
        names.pop()
    return [name if isinstance(name, str) else shown(name) for name in names]


def _trimmed(cell: object) -> object:
    return cell.strip() if isinstance(cell, str) else cell


def _nameless(value: object, at: Where) -> Fault:
    return Fault(
        at,
        found=f"found {shown(value)} in a column without a name",
        expected="expected no more cells than the header has names",
        mend="look for a separator too many, or put quotation marks around a cell that holds one"
        if at.sheet is None
        else 'delete it, or give its column a name that begins with "my "',
    )


def too_many_rows(columns: Columns, at: Where) -> Fault:
    """The fault of a table whose rows go on to the place `at`."""
    most = limit(columns.rows_limit)
    return Fault(
        at,
        found=f"more than {most} rows",
        expected=f"expected at most {most}",
        mend="look whether it is the right file, and delete rows that are not needed",
    )
