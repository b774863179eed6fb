"""A table in a text file: its separator, header and rows, each cell with its place."""

import csv
import io
from collections.abc import Iterator

from scheduler.tables.cell import DateOrder, Style, shown
from scheduler.tables.decode import decoded
from scheduler.tables.fields import Fields
from scheduler.tables.gathered import Gathered
from scheduler.tables.header import Columns, check_header
from scheduler.tables.limits import limit
from scheduler.words import Fault, Where

_SEPARATORS = (",", ";", "\t")


def table_rows(columns: Columns, content: bytes, dates: DateOrder | None, gathered: Gathered) -> Iterator[Fields]:
    """The rows that hold anything, one by one; faults of the file and its header are gathered on the way.

    Rows count as in a spreadsheet: the header is row 1, blank rows count, a line break in quotes makes no new row.
    """
    text = decoded(columns.file, content)
    if isinstance(text, Fault):
        gathered.stop(text)
        return
    separator = _separator(text, columns)
    records = _records(columns.file, text, separator, gathered)
    header = [cell.strip() for cell in next(records, (1, []))[1]]
    if not check_header(columns, header, gathered):
        return
    style = Style(decimal_comma=separator == ";", dates=dates)
    lacking = frozenset(columns.required) - set(header)
    for row, cells in records:
        if row - 1 > limit(columns.rows_limit):
            gathered.stop(_too_many_rows(columns, row))
            return
        if any(cell.strip() for cell in cells):
            yield _fields(header, cells, Where(columns.file, row=row), gathered, style, lacking)


def _separator(text: str, columns: Columns) -> str:
    """The separator under which the first line shows most of the table's columns; of equals the more frequent one."""
    first = text[:20_000].partition("\n")[0]

    def score(separator: str) -> tuple[int, int]:
        names = {part.strip().strip('"').strip() for part in first.split(separator)}
        return len(names & set(columns.all)), first.count(separator)

    return max(_SEPARATORS, key=score)


def _records(file: str, text: str, separator: str, gathered: Gathered) -> Iterator[tuple[int, list[str]]]:
    """The records with their numbers, up to the first that cannot be read."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True, skipinitialspace=True)
    row = 0
    while True:
        row += 1
        try:
            yield row, next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            gathered.stop(
                Fault(
                    Where(file, row=row),
                    found=f"a row that cannot be read ({error})",
                    expected="expected cells parted by one separator, with every quotation mark closed",
                    mend="look for a quotation mark too few or too many in this row",
                )
            )
            return


def _fields(
    header: list[str], cells: list[str], at: Where, gathered: Gathered, style: Style, lacking: frozenset[str]
) -> Fields:
    found = {column: cell for column, cell in zip(header, map(str.strip, cells), strict=False) if cell}
    fields = Fields(found, at, gathered, style, lacking)
    nameless = found.get("") or next((cell for cell in map(str.strip, cells[len(header) :]) if cell), None)
    if nameless is not None:
        fields.add(
            Fault(
                at,
                found=f"found {shown(nameless)} in a column without a name",
                expected="expected no more cells than the header has names",
                mend="look for a separator too many, or put quotation marks around a cell that holds one",
            )
        )
    return fields


def _too_many_rows(columns: Columns, row: int) -> Fault:
    most = limit(columns.rows_limit)
    return Fault(
        Where(columns.file, row=row),
        found=f"more than {most} rows",
        expected=f"expected at most {most}",
        mend="look whether it is the right file, and delete rows that are not needed",
    )
