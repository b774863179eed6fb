"""Labels as the sheets of a workbook state them: labels, packs, uses, doses, repeats -> fields as a label file has."""

from collections.abc import Callable, Iterator
from typing import cast

from msgspec import Struct

from scheduler.labels.model import Label
from scheduler.labels.read import label_of
from scheduler.tables import (
    Cell,
    Columns,
    Document,
    Fields,
    Gathered,
    Known,
    Once,
    SheetFields,
    Style,
    line,
    reference,
)
from scheduler.words import Fault, Where

LABELS = Columns(
    file="labels",
    required=("label", "name", "active", "chemical_group", "form"),
    optional=(
        "checked", "edition", "countries", "prescription",
        "meat", "milk", "export", "wool",
        "repeat_interval", "most_per_season", "handling_days", "opened_days", "not_before_lambing_days", "not_with",
    ),
)  # fmt: skip
PACKS = Columns(file="packs", required=("label", "ml", "price"))
USES = Columns(
    file="uses",
    required=("label", "id", "targets", "purpose"),
    optional=(
        "protects_days", "works_after_days", "youngest_days", "kinds", "minutes_per_head", "fleece_weeks", "dry_hours",
        "ends_at", "method",
    ),
)  # fmt: skip
DOSES = Columns(
    file="doses",
    required=("label", "use"),
    optional=("above_kg", "upto_kg", "ml", "ml_per_kg", "ml_per_100cm2", "step_ml", "most_ml"),
)
REPEATS = Columns(file="repeats", required=("label", "use", "after_days", "ml"), optional=("upto_kg",))
LABEL_SHEETS = (LABELS, PACKS, USES, DOSES, REPEATS)

_PARTS = {"pack": PACKS, "use": USES, "dose": DOSES, "repeat": REPEATS}
_SHEETS = {part: columns.sheet for part, columns in _PARTS.items()}
_PAIRS = {"not_with": ("chemical_group", "days")}
_TABLES = {
    "withdrawal": ("meat", "milk", "export", "wool"),
    "limits": (
        "repeat_interval", "most_per_season", "handling_days", "opened_days", "not_before_lambing_days", "not_with",
    ),
}  # fmt: skip
_NOT_IN_NAMES = "/;#"

Rows = Callable[[Columns], Iterator[Fields]]
"""The rows of a sheet, by its columns."""

_Cells = dict[str, object]


class _Draft(Struct, frozen=True):
    """A label in the making: its cells as a label file has them, their places, and its uses with their keys by id."""

    cells: _Cells
    places: dict[str, Where]
    uses: dict[str, tuple[str, _Cells]]


class LabelSheets:
    """The labels of a workbook."""

    def __init__(self, rows: Rows) -> None:
        self._rows = rows
        self._drafts: dict[str, _Draft] = {}
        self._sure = True
        once = Once()
        for row in rows(LABELS):
            label = row.need("label", _label_name)
            draft = _draft(row)
            if label is None:
                self._sure = False
            else:
                once.note(row, "label", label, f'the label "{label}"')
                self._drafts.setdefault(label, draft)

    def known(self, at: Where, gathered: Gathered) -> Known:
        """The names of the labels, also of those that cannot be read. `at`: the place of their sheet."""
        places = {label: draft.places[""] for label, draft in self._drafts.items()}
        return Known("label", places, f"the sheet {LABELS.sheet}", self._sure and not gathered.is_stopped(at))

    def labels(self, at: Where, gathered: Gathered, style: Style) -> Iterator[Label]:
        """The labels without a fault, in the order of label files of these names. `at`: the place of their sheet."""
        known = self.known(at, gathered)
        for part in ("pack", "use"):
            self._take_in(part, known)
        for part in ("dose", "repeat"):
            self._take_in_of_uses(part, known)
        for label, draft in sorted(self._drafts.items(), key=lambda item: f"{item[0]}.toml"):
            read = label_of(
                label, SheetFields(Document(at, draft.places, gathered, style, _PAIRS, _SHEETS), draft.cells)
            )
            if read is not None:
                yield read

    def _take_in(self, part: str, known: Known) -> None:
        """Adds the rows of the sheet of packs or of uses to their labels."""
        stray = False
        for row in self._rows(_PARTS[part]):
            draft = self._drafts.get(row.need("label", reference(known, line)))
            if draft is None:
                stray = True
                continue
            key, cells = _add(draft, draft.cells, "", part, row)
            if isinstance(cells.get("id"), str):
                draft.uses.setdefault(str(cells["id"]), (key, cells))
        if stray:
            _leave_open(part, (draft.cells for draft in self._drafts.values()))

    def _take_in_of_uses(self, part: str, known: Known) -> None:
        """Adds the rows of the sheet of doses or of repeats to their uses."""
        stray = False
        for row in self._rows(_PARTS[part]):
            draft = self._drafts.get(row.need("label", reference(known, line)))
            use = draft and row.need("use", reference(_uses(draft), line))
            if draft is None or use not in draft.uses:
                stray = True
                continue
            key, cells = draft.uses[use]
            _add(draft, cells, f"{key}.", part, row)
        if stray:
            _leave_open(part, (cells for draft in self._drafts.values() for _, cells in draft.uses.values()))


def _label_name(cell: Cell) -> str | Fault:
    """Reads a label's name as a file's stem could be."""
    name = line(cell)
    if not isinstance(name, Fault) and any(letter in name for letter in _NOT_IN_NAMES):
        return cell.fault("expected a name without / ; and #", "write it without them")
    return name


def _uses(draft: _Draft) -> Known:
    places = {use: draft.places[key] for use, (key, _) in draft.uses.items()}
    return Known("use of this label", places, f"the sheet {USES.sheet}")


def _draft(row: Fields) -> _Draft:
    """A label's row: columns that a label file keeps in a table are put there."""
    cells: _Cells = {}
    places = {"": row.at}
    table_of = {name: table for table, names in _TABLES.items() for name in names}
    for column, cell in _given(row, LABELS):
        table = table_of.get(column)
        inside = cells if table is None else cast(_Cells, cells.setdefault(table, {}))
        inside[column] = cell.value
        places[f"{table}.{column}" if table else column] = cell.where
    return _Draft(cells, places, {})


def _add(draft: _Draft, holder: _Cells, above: str, part: str, row: Fields) -> tuple[str, _Cells]:
    """Puts a row of another sheet into an array of tables of its holder; its key there, and its cells."""
    cells: _Cells = {}
    array = cast(list[_Cells], holder.setdefault(part, []))
    array.append(cells)
    key = f"{above}{part}[{len(array)}]"
    draft.places[key] = row.at
    for column, cell in _given(row, _PARTS[part]):
        cells[column] = cell.value
        draft.places[f"{key}.{column}"] = cell.where
    return key, cells


def _given(row: Fields, columns: Columns) -> Iterator[tuple[str, Cell]]:
    """The cells of a row but for the names of those that it belongs to."""
    for column in columns.all:
        if column in ("label", "use"):
            continue
        cell = row.need(column, _as_it_stands) if column in columns.required else row.get(column, _as_it_stands, None)
        if cell is not None:
            yield column, cell


def _as_it_stands(cell: Cell) -> Cell | Fault:
    return cell


def _leave_open(part: str, holders: Iterator[_Cells]) -> None:
    """Of rows whose owner is not known any may be meant: nothing is said to be missing then."""
    for cells in holders:
        cells.setdefault(part, [])
