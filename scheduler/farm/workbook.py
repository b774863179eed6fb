"""farm.xlsx: the whole farm in one workbook, asked the same questions as a folder of text files."""

from collections.abc import Iterator, Mapping

from scheduler.farm.files import TABLES, WORKBOOK
from scheduler.farm.groups import GROUPS
from scheduler.farm.settings import FARM_FILE, default_settings
from scheduler.labels import LABEL_SHEETS, LABELS, Label, LabelSheets
from scheduler.tables import (
    DATE_ORDERS,
    Cell,
    Columns,
    DateOrder,
    Document,
    Fields,
    Gathered,
    Once,
    SheetFields,
    Style,
    Workbook,
    line,
    nearest,
    open_workbook,
    over,
)
from scheduler.words import Fault, Where

FARM_SHEET = Columns(file="farm", required=("section", "key", "value"))
SHEETS = (FARM_SHEET, *TABLES, *LABEL_SHEETS)
_OWN = "my "


def workbook_source(texts: Mapping[str, bytes | Fault], gathered: Gathered) -> "WorkbookFolder | None":
    """The farm's workbook, or None where it cannot be opened or is not alone (its faults are gathered)."""
    if FARM_FILE in texts:
        return None
    content = texts[WORKBOOK]
    book = content if isinstance(content, Fault) else open_workbook(WORKBOOK, content)
    if isinstance(book, Fault):
        gathered.stop(book)
        return None
    for fault in _sheet_faults(book):
        gathered.add(fault)
    return WorkbookFolder(book, gathered)


class WorkbookFolder:
    """A workbook with a sheet for each table, the sheet farm for settings, and those of the labels."""

    labels_where = f"the sheet {LABELS.sheet}"

    def __init__(self, book: Workbook, gathered: Gathered) -> None:
        self.gathered = gathered
        self._book = book
        self._dates: DateOrder | None = None
        self._labels: LabelSheets | None = None

    def place(self, columns: Columns) -> Where:
        """The table's sheet."""
        return self._book.place(columns)

    def has(self, columns: Columns) -> bool:
        """Whether the table's sheet is there."""
        return columns.sheet in self._book.sheets

    def rows(self, columns: Columns, dates: DateOrder | None) -> Iterator[Fields]:
        """The rows of the table's sheet."""
        return self._book.rows(columns, dates, self.gathered)

    def settings(self) -> Fields | None:
        """The sheet farm, over the defaults."""
        if not self.has(FARM_SHEET):
            return None
        cells: dict[str, object] = {}
        places: dict[str, Where] = {}
        once = Once()
        for row in self._book.rows(FARM_SHEET, "iso", self.gathered):
            _put(row, cells, places, once)
        if self.gathered.is_stopped(self.place(FARM_SHEET)):
            return None
        document = Document(self.place(FARM_SHEET), places, self.gathered, self._style(_dates_of(cells)), {}, {})
        return SheetFields(document, over(default_settings(), cells), lacking=frozenset())

    def label_places(self) -> dict[str, Where]:
        """The rows of the sheet labels by the names that stand there."""
        return self._label_sheets().places

    def labels(self, dates: DateOrder | None) -> Iterator[Label]:
        """The labels of the sheets."""
        return self._label_sheets().labels(self.place(LABELS), self.gathered, self._style(dates))

    def _label_sheets(self) -> LabelSheets:
        if self._labels is None:
            self._labels = LabelSheets(lambda columns: self._book.rows(columns, "iso", self.gathered))
        return self._labels

    def _style(self, dates: DateOrder | None) -> Style:
        return Style(dates=dates, day_zero=self._book.package.day_zero, iso_too=True)


def _put(row: Fields, cells: dict[str, object], places: dict[str, Where], once: Once) -> None:
    """Takes in a row of the sheet farm: what its value cell holds, under section and key. No value: the default."""
    section, key = row.need("section", line), row.need("key", line)
    value = row.get("value", _as_it_stands, None)
    if row.failed or value is None:
        return
    path = f"{section}.{key}"
    once.note(row, "key", path, path)
    *tables, last = path.split(".")
    inside = cells
    for table in tables:
        below = inside.setdefault(table, {})
        if not isinstance(below, dict):
            row.fault("key", f"found {path}", f"{table} has a value of its own", "keep one of the two rows")
            return
        inside = below
    if isinstance(inside.get(last), dict):
        row.fault("key", f"found {path}", "keys under it have values of their own", "keep one of the two")
        return
    inside[last] = value.value
    places[path] = value.where


def _as_it_stands(cell: Cell) -> Cell | Fault:
    return cell


def _dates_of(cells: Mapping[str, object]) -> DateOrder | None:
    """How the workbook writes dates as text, where that can be read."""
    farm = cells.get("farm")
    stated = farm.get("dates", "iso") if isinstance(farm, dict) else "iso"
    return next((order for order in DATE_ORDERS if order == stated), None)


def _sheet_faults(book: Workbook) -> Iterator[Fault]:
    """Sheets that are not known, twice there, or missing."""
    known = [columns.sheet for columns in SHEETS]
    offered: set[str | None] = set()
    for name, hidden in book.sheets.items():
        if name not in known and not name.startswith(_OWN):
            near = nearest(name, (one for one in known if one not in book.sheets))
            offered.add(near)
            found = "found a hidden sheet of this name" if hidden else "found a sheet of this name"
            mend = f'did you mean "{near}"?' if near else f'delete it, or let its name begin with "{_OWN}"'
            yield Fault(Where(WORKBOOK, sheet=name), found, f"no such sheet; known: {', '.join(known)}", mend)
    for columns in (FARM_SHEET, GROUPS):
        if columns.sheet not in book.sheets and columns.sheet not in offered:
            mend = f"add it with the columns {', '.join(columns.required)}"
            yield Fault(book.place(columns), "found no such sheet", "it is required", mend)
