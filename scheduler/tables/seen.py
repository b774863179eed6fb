"""Finds what stands twice in a table, and names that nothing answers to."""

from collections.abc import Hashable

from scheduler.tables.cell import Cell, Reader, shown
from scheduler.tables.fields import Fields
from scheduler.tables.limits import limit
from scheduler.tables.nearest import nearest
from scheduler.tables.values import listed
from scheduler.words import Fault, Where


class Once:
    """Keys that may stand once in a table."""

    def __init__(self) -> None:
        self._rows: dict[Hashable, Where] = {}

    def note(self, fields: Fields, column: str, key: Hashable, shown: str) -> None:
        """Take in the key of a row; one that stands in an earlier row already is a fault."""
        where = fields.where(column)
        first = self._rows.setdefault(key, where)
        if first != where:
            place = f"in row {first.row}" if first.row is not None else f"as {first.key}"
            fields.fault(
                column, f"found {shown} again", f"it stands {place} already", "keep one of them, or change one"
            )


class Known:
    """Names that other tables may refer to, each with its place. `noun` is what they are called in faults.

    Where not all of them could be read (`sure` False), no name is called unknown.
    """

    def __init__(self, noun: str, places: dict[str, Where], add_to: str, sure: bool = True) -> None:
        self.noun = noun
        self.places = places
        self._add_to = add_to
        self._sure = sure
        self._near: dict[str, str | None] = {}

    def __contains__(self, name: str) -> bool:
        return name in self.places or not self._sure

    def mend(self, name: str) -> str:
        """How to mend a name that is not known: the nearest known name and its place."""
        if name not in self._near and len(self._near) < limit("names_suggested"):
            self._near[name] = nearest(name, self.places)
        near = self._near.get(name)
        if near is None:
            return f"write one that stands in {self._add_to}, or add it there"
        return f'did you mean "{near}" ({self.places[near]})?'

    def fault(self, cell: Cell, name: str) -> Fault:
        """The fault that a cell names what is not known."""
        return Fault(cell.where, f"found {shown(name)}", f"no such {self.noun}", self.mend(name))


def reference(known: Known, reader: Reader[str]) -> Reader[str]:
    """Reads a name that must be known."""

    def read(cell: Cell) -> str | Fault:
        name = reader(cell)
        return name if isinstance(name, Fault) or name in known else known.fault(cell, name)

    return read


def known_names(fields: Fields, column: str, known: Known) -> tuple[str, ...]:
    """The names, parted by semicolons, of a required cell; each that is not known is a fault of its own."""
    names = fields.need(column, listed) or ()
    for name in names:
        if name not in known:
            fields.add(known.fault(Cell(name, fields.where(column)), name))
    return names
