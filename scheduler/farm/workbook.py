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
    Known,
    Once,
    SheetFields,
    Style,
    Workbook,
    did_you_mean,
    line,
    nearest,
    open_workbook,
    over,
    pairs,
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

    def __init__(self, book: Workbook, gathered: Gathered) -> None:
        self.gathered = gathered
        self._book = book
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

    def known_labels(self) -> Known:
        """The rows of the sheet labels by the names that stand there."""
        return self._label_sheets().known(self.place(LABELS), self.gathered)

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
    if section.partition(".")[0] not in default_settings():
        near = did_you_mean(section, default_settings(), f"known: {', '.join(default_settings())}")
        row.fault("section", f'found "{section}"', "no such part of the settings", near)
        return
    path = f"{section}.{key}"
    once.note(row, "key", path, path)
    *tables, last = path.split(".")
    inside, defaults = cells, default_settings()
    for table in tables:
        inside, defaults = _table(inside, table), _table(dict(defaults), table)
    if isinstance(defaults.get(last), dict) and isinstance(value.value, str):
        stated = dict(row.need("value", pairs) or ())
        _table(inside, last).update(stated)
        places.update({f"{path}.{name}": value.where for name in stated})
    else:
        inside[last] = value.value
        places[path] = value.where


def _table(cells: dict[str, object], name: str) -> dict[str, object]:
    """The table of that name within another; a value that stands there already, a fault of its own, is put aside."""
    inside = cells.get(name)
    if not isinstance(inside, dict):
        inside = cells[name] = {}
    return inside


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
    names = [sheet.name for sheet in book.package.sheets]
    for name in sorted(set(names) & set(known)):
        if names.count(name) > 1:
            found = f"found {names.count(name)} sheets of this name"
            yield Fault(Where(WORKBOOK, sheet=name), found, "expected one", "delete or rename the others")
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
