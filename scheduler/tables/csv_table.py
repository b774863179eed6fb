"""A table in a text file: its separator, header and rows, each cell with its place."""

import csv
import io
from collections.abc import Iterator

from scheduler.tables.cell import DateOrder, Style
from scheduler.tables.decode import decoded
from scheduler.tables.fields import Fields
from scheduler.tables.gathered import Gathered
from scheduler.tables.header import Columns
from scheduler.tables.records import Record, located_rows
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
    separator = separator_of(text, columns)
    records = _records(columns.file, text, separator, gathered)
    style = Style(decimal_comma=separator == ";", dates=dates)
    yield from located_rows(columns, records, Where(columns.file), style, gathered)


def separator_of(text: str, columns: Columns | None) -> str:
    """The separator under which the first line shows most of the table's columns; of equals the more frequent one.

    columns None: of any table.
    """
    known = set() if columns is None else set(columns.all)
    first = text[:20_000].partition("\n")[0]

    def score(separator: str) -> tuple[int, int]:
        names = {part.strip().strip('"').strip() for part in first.split(separator)}
        return len(names & known), first.count(separator)

    return max(_SEPARATORS, key=score)


def _records(file: str, text: str, separator: str, gathered: Gathered) -> Iterator[Record]:
    """The records with their numbers, up to the first that cannot be read."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True, skipinitialspace=True)
    row = 0
    while True:
        row += 1
        try:
            yield row, list[object](next(reader))
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
