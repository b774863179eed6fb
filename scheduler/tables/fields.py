"""One row of a table, or one table of a TOML file, while it is being read."""

import re
from collections.abc import Iterator, Mapping
from typing import TypeVar, cast

from msgspec.structs import replace

from scheduler.tables.cell import Cell, Odd, Reader, Style, shown
from scheduler.tables.gathered import Gathered
from scheduler.tables.limits import limit
from scheduler.tables.nearest import nearest
from scheduler.words import Fault, Where

T = TypeVar("T")
D = TypeVar("D")

_PLAIN = re.compile(r"[\w -]{1,60}")


class Fields:
    """Named cells of one row or TOML table: gives their values, gathers their faults.

    `at` is the place of the whole: a row of a table (its cells are columns), or a key of a TOML file (they are keys).
    What `need` and `get` give after a fault is never looked at: who reads a row asks `failed` before using it.
    `lacking` are names whose absence was told already (a column missing from the header); None: all of them (no table
    at all). `whole` is the table that this one is part of: it fails with its parts.
    """

    def __init__(
        self,
        cells: Mapping[str, object],
        at: Where,
        gathered: Gathered,
        style: Style | None = None,
        lacking: frozenset[str] | None = frozenset(),
        whole: "Fields | None" = None,
    ) -> None:
        self._cells = cells
        self.at = at
        self._gathered = gathered
        self._style = style
        self._lacking = lacking
        self._whole = whole
        self._asked: dict[str, None] = {}
        self._missed: list[str] = []
        self.failed = False

    def where(self, name: str) -> Where:
        """The place of the cell of that name."""
        shown_name = name if _PLAIN.fullmatch(name) else shown(name)
        if self.at.row is not None:
            letter = self._style.letters.get(name) if self._style else None
            return Where(self.at.file, row=self.at.row, column=shown_name, sheet=self.at.sheet, letter=letter)
        key = f"{self.at.key}.{shown_name}" if self.at.key else shown_name
        return Where(self.at.file, key=key, sheet=self.at.sheet)

    def has(self, name: str) -> bool:
        """Whether there is a cell of that name."""
        self._asked[name] = None
        return name in self._cells

    def raw(self, name: str) -> str:
        """The text of a cell as it stands, readable or not; empty where there is none."""
        value = self._cells.get(name, "")
        return value if isinstance(value, str) else ""

    def need(self, name: str, reader: Reader[T]) -> T:
        """The value of a required cell."""
        self._asked[name] = None
        if name in self._cells:
            return self._take(Cell(self._cells[name], self.where(name), self._style), reader)
        if self.at.row is not None and self._lacking is not None and name not in self._lacking:
            self._say_missing(name)
        self._missed.append(name)
        self._fail()
        return cast(T, None)

    def get(self, name: str, reader: Reader[T], default: D) -> T | D:
        """The value of a cell that may be absent; then `default`."""
        self._asked[name] = None
        return self.need(name, reader) if name in self._cells else default

    def entries(self, name: str, reader: Reader[T]) -> tuple[T, ...]:
        """The values of a TOML list, each read by `reader` and each once; empty where the list is absent."""
        cells = self._list(name, "a list in square brackets")
        for number, cell in enumerate(cells):
            if any(cell.value == earlier.value for earlier in cells[:number]):
                self.add(cell.fault("expected each entry once", "delete it here"))
        return tuple(self._take(cell, reader) for cell in cells)

    def some_entries(self, name: str, reader: Reader[T]) -> tuple[T, ...]:
        """The values of a TOML list that must hold at least one."""
        entries = self.entries(name, reader)
        if not entries and not self._cells.get(name):
            self.fault(name, "found none", "expected a list of at least one entry", f'write {name} = ["..."]')
        return entries

    def table(self, name: str) -> "Fields":
        """A table within this one; an empty one where it is absent."""
        self._asked[name] = None
        value = self._cells.get(name, {})
        if not isinstance(value, dict):
            self.fault(name, f"found {shown(value)}", "expected a table", f"write its keys under [{name}]")
            return self._within({}, self.where(name), lacking=None)
        return self._within(value, self.where(name))

    def tables(self, name: str) -> "tuple[Fields, ...]":
        """The tables of a TOML array of tables; empty where it is absent."""
        cells = self._list(name, "an array of tables")
        for cell in cells:
            if not isinstance(cell.value, dict):
                self.add(cell.fault("expected a table", f"write each under [[{name}]]"))
        return tuple(self._within(cell.value, cell.where) for cell in cells if isinstance(cell.value, dict))

    def some_tables(self, name: str) -> "tuple[Fields, ...]":
        """The tables of a TOML array of tables of which there must be at least one."""
        tables = self.tables(name)
        if not tables and not self._cells.get(name):
            self.fault(name, "found none", f"expected at least one [[{name}]]", "write one")
        return tables

    def fault(self, name: str, found: str, expected: str, mend: str) -> None:
        """Take in a fault of the cell of that name."""
        self.add(Fault(self.where(name), found, expected, mend))

    def add(self, fault: Fault) -> None:
        """Take in a fault; what is being read is not used then."""
        self._gathered.add(fault)
        self._fail()

    def close(self) -> None:
        """End of a TOML table: keys that nobody asked for are faults, and required ones that nothing stands for."""
        free = [name for name in self._asked if name not in self._cells]
        meant = set()
        for name in self._cells:
            if name not in self._asked:
                near = nearest(name, free) or nearest(name, self._asked)
                meant.add(near)
                mend = f'did you mean "{near}"?' if near else f"delete it; known here: {', '.join(self._asked)}"
                self.fault(name, f"found the key {shown(name)}", "no such key here", mend)
        for name in self._missed:
            if self._lacking is not None and name not in meant:
                self._say_missing(name)

    def _say_missing(self, name: str) -> None:
        self.fault(name, "found nothing", "expected a value here", f"fill in {name}")

    def _fail(self) -> None:
        self.failed = True
        if self._whole is not None:
            self._whole._fail()

    def _within(self, cells: Mapping[str, object], at: Where, lacking: frozenset[str] | None = frozenset()) -> "Fields":
        return Fields(cells, at, self._gathered, self._style, lacking, whole=self)

    def _list(self, name: str, expected: str) -> tuple[Cell, ...]:
        self._asked[name] = None
        value = self._cells.get(name, [])
        if not isinstance(value, list):
            self.fault(
                name, f"found {shown(value)}", f"expected {expected}", "write it as one, even for a single entry"
            )
            return ()
        if len(value) > limit("list_entries"):
            self.fault(name, f"found {len(value)} entries", f"expected at most {limit('list_entries')}", "shorten it")
            return ()
        return tuple(self._cells_of(name, value))

    def _cells_of(self, name: str, values: list[object]) -> Iterator[Cell]:
        at = self.where(name)
        for number, value in enumerate(values, start=1):
            yield Cell(value, replace(at, key=f"{at.key}[{number}]"), self._style)

    def _take(self, cell: Cell, reader: Reader[T]) -> T:
        value = cell.value.fault(cell.where) if isinstance(cell.value, Odd) else reader(cell)
        if isinstance(value, Fault):
            self.add(value)
            return cast(T, None)
        return value
