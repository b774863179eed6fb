"""What sheets of a workbook state in the place of a TOML document: lists parted by ;, pairs as name:value."""

from collections.abc import Mapping

from msgspec import Struct
from msgspec.structs import replace

from scheduler.tables.cell import Cell, Reader, Style
from scheduler.tables.fields import Fields, T
from scheduler.tables.gathered import Gathered
from scheduler.tables.values import line
from scheduler.words import Fault, Where


class Document(Struct, frozen=True):
    """Where a document's values stand: `places` by dotted key (`use[1].dose[2].ml`; rows by `use[1]`), else `root`.

    `pairs` are the names of both halves of pairs that stand for an array of tables, by its key. `sheets` are the
    names of the sheets that hold an array of tables, by its key.
    """

    root: Where
    places: Mapping[str, Where]
    gathered: Gathered
    style: Style
    pairs: Mapping[str, tuple[str, str]]
    sheets: Mapping[str, str]


class SheetFields(Fields):
    """Named cells of a document that sheets state; `path` is its dotted key, empty at the top."""

    def __init__(
        self,
        document: Document,
        cells: Mapping[str, object],
        path: str = "",
        lacking: frozenset[str] | None = None,
        whole: Fields | None = None,
    ) -> None:
        at = document.places.get(path, replace(document.root, key=path or None))
        super().__init__(cells, at, document.gathered, document.style, lacking, whole)
        self._document = document
        self._path = path

    def where(self, name: str) -> Where:
        """The cell of that name; where none states it, its row, or its key."""
        path = self._inside(name)
        return self._document.places.get(path) or super().where(name)

    def table(self, name: str) -> Fields:
        """A table within this one, or the pairs of a cell."""
        self._asked[name] = None
        value = self._cells.get(name, {})
        if isinstance(value, dict):
            return SheetFields(self._document, value, self._inside(name), self._lacking, whole=self)
        return self._pairs(name, dict(self.need(name, pairs) or ()))

    def tables(self, name: str) -> tuple[Fields, ...]:
        """The rows of another sheet that belong to this one, or the pairs of a cell, each as a table."""
        self._asked[name] = None
        value = self._cells.get(name, [])
        if isinstance(value, list):
            path = self._inside(name)
            return tuple(
                SheetFields(self._document, part, f"{path}[{number}]", self._lacking, whole=self)
                for number, part in enumerate(value, start=1)
            )
        names = self._document.pairs.get(name, ("", ""))
        return tuple(self._pairs(name, dict(zip(names, pair, strict=True))) for pair in self.need(name, pairs) or ())

    def some_tables(self, name: str) -> tuple[Fields, ...]:
        """The rows of another sheet, of which there must be at least one unless it is not known whose they are."""
        tables = self.tables(name)
        if name not in self._cells:
            found = f"found no row of it in the sheet {self._document.sheets[name]}"
            self.add(Fault(self.at, found, "expected at least one", "write one there"))
        return tables

    def some_entries(self, name: str, reader: Reader[T]) -> tuple[T, ...]:
        """The values of a list that must hold at least one."""
        if name in self._cells:
            return self.entries(name, reader)
        self.need(name, reader)
        return ()

    def _inside(self, name: str) -> str:
        return f"{self._path}.{name}" if self._path else name

    def _pairs(self, name: str, values: Mapping[str, str]) -> Fields:
        return _PairFields(values, self.where(name), self._gathered, self._style, whole=self)

    def _list(self, name: str, expected: str) -> tuple[Cell, ...]:
        self._asked[name] = None
        value = self._cells.get(name, [])
        if isinstance(value, list):
            return super()._list(name, expected)
        parts = list_parts(value) if isinstance(value, str) else [value]
        places = [self._entry(name, number) for number in range(1, len(parts) + 1)]
        return tuple(Cell(part, place, self._style) for part, place in zip(parts, places, strict=True))

    def _entry(self, name: str, number: int) -> Where:
        """The place of an entry of a list: the cell, and of a setting its key too, which tells entries apart."""
        place = self.where(name)
        return place if self.at.row is not None else replace(place, key=f"{self._inside(name)}[{number}]")


class _PairFields(Fields):
    """The pairs of one cell, as `before:0; after:6`: each of them stands in that cell."""

    def where(self, name: str) -> Where:
        return self.at


def list_parts(text: str) -> list[str]:
    """The entries of a list parted by ; where the parts of a calendar's rule (FREQ=YEARLY;BYMONTH=8) stay together."""
    entries: list[str] = []
    names: set[str] = set()
    for part in filter(None, map(str.strip, text.split(";"))):
        name, is_rule, _ = part.upper().partition("=")
        if is_rule and names and name not in names and not name.startswith("RRULE:"):
            entries[-1] += f";{part}"
            names.add(name)
        else:
            entries.append(part)
            names = {name.removeprefix("RRULE:")} if is_rule else set()
    return entries


def pairs(cell: Cell) -> tuple[tuple[str, str], ...] | Fault:
    """Reads names and values parted by a colon, pairs by ;."""
    text = line(cell)
    if isinstance(text, Fault):
        return text
    parts = [part.rpartition(":") for part in text.split(";") if part.strip()]
    read = tuple((name.strip(), value.strip()) for name, _, value in parts)
    if all(name and value for name, value in read):
        return read
    return cell.fault("expected names with a value each, as name:value, parted by ;", "write a colon between the two")
