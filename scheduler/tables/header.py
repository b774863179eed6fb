"""The header of a table: which columns it may hold, and what is wrong with the one that it has."""

from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from scheduler.tables.cell import shown
from scheduler.tables.gathered import Gathered
from scheduler.tables.limits import limit
from scheduler.tables.nearest import nearest
from scheduler.words import Fault, Where

_OWN = "my "


class Columns(Struct, frozen=True, kw_only=True):
    """What a table's header may hold. `rows_limit` names the limit (limits.toml) of its rows."""

    file: str
    required: tuple[str, ...]
    optional: tuple[str, ...] = ()
    rows_limit: str = "rows"

    @property
    def sheet(self) -> str:
        """The name of the sheet that holds the table in a workbook."""
        return self.file.removesuffix(".csv")

    @property
    def all(self) -> tuple[str, ...]:
        """All columns, the required first."""
        return self.required + self.optional


def check_header(columns: Columns, header: Sequence[str], at: Where, gathered: Gathered) -> bool:
    """Whether rows can be read under this header, which stands `at` a row; its faults are gathered."""
    known, most = ", ".join(columns.all), limit("columns")
    if not any(header):
        gathered.stop(Fault(at, "found no header", f"expected the columns {known}", "write them in row 1"))
        return False
    if len(header) > most:
        gathered.stop(Fault(at, f"found {len(header)} columns", f"expected at most {most}", "delete the others"))
        return False
    twice = [column for column in columns.all if header.count(column) > 1]
    for column in twice:
        found = f'found the column "{column}" twice'
        gathered.stop(Fault(at, found, "expected it once", "delete or rename one of them"))
    for fault in _names_faults(columns, header, at):
        gathered.add(fault)
    return not twice


def _names_faults(columns: Columns, header: Sequence[str], at: Where) -> Iterator[Fault]:
    """Columns that nobody knows, then required ones that are missing and that none of those was meant to be."""
    meant: set[str | None] = set()
    for column in header:
        if column and column not in columns.all and not column.startswith(_OWN):
            near = nearest(column, (name for name in columns.all if name not in header))
            meant.add(near)
            mend = f'did you mean "{near}"?' if near else f'delete it, or let its name begin with "{_OWN}"'
            expected = f"no such column; known: {', '.join(columns.all)}"
            yield Fault(at, f"found the column {shown(column)}", expected, mend)
    for column in columns.required:
        if column not in header and column not in meant:
            yield Fault(replace(at, column=column), "found no such column", "it is required", "add it")
