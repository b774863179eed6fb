"""A farm's text files -> what the sheets of a workbook hold: rows by number, each with its values by column."""

import tomllib
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from scheduler.farm.files import TABLES, is_label_file
from scheduler.farm.notes import ColumnKind, notes_of_settings, notes_of_sheets
from scheduler.farm.settings import FARM_FILE, default_settings
from scheduler.farm.workbook import FARM_SHEET
from scheduler.labels import LABEL_SHEETS, LABELS, label_id
from scheduler.tables import DATE_ORDERS, Cell, Columns, Fields, Gathered, Reader, day, list_parts, table_rows, text

Row = tuple[int, Mapping[str, object]]
NOTES_COLUMN = "my notes"
_NO_ENTRIES = ";"


def as_sheets(texts: Mapping[str, bytes]) -> dict[str, list[Row]]:
    """The rows of every sheet, by its name; row 1 is the header. The farm must be lawful."""
    settings = tomllib.loads(texts[FARM_FILE].decode(), parse_float=Decimal)
    stated = settings["farm"].get("dates", "iso")
    dates = next(order for order in DATE_ORDERS if order == stated)
    sheets = {FARM_SHEET.sheet: _numbered(_settings_rows(settings))}
    for columns in TABLES:
        content = texts.get(columns.file, b"")
        rows = table_rows(columns, content, dates, Gathered()) if content else iter(())
        sheets[columns.sheet] = [(row.at.row or 0, _values(columns, row)) for row in rows]
    labels = {file: texts[file] for file in sorted(texts) if is_label_file(file)}
    documents = {
        label_id(file): tomllib.loads(content.decode(), parse_float=Decimal) for file, content in labels.items()
    }
    return sheets | {columns.sheet: _numbered(_label_rows(columns, documents)) for columns in LABEL_SHEETS}


def _values(columns: Columns, row: Fields) -> dict[str, object]:
    """A row's values by column: dates as dates, numbers with a decimal point, all else as it stands."""
    readers: dict[ColumnKind, Reader[object]] = {"day": day, "number": _with_point}
    notes = notes_of_sheets()[columns.sheet].columns
    return {name: row.get(name, readers.get(notes[name].kind, text), "") for name in columns.all}


def _with_point(cell: Cell) -> object:
    comma = cell.style is not None and cell.style.decimal_comma
    return str(cell.value).replace(",", ".") if comma else cell.value


def _numbered(rows: Iterator[Mapping[str, object]]) -> list[Row]:
    return list(enumerate(rows, start=2))


def _settings_rows(settings: Mapping[str, Any]) -> Iterator[dict[str, object]]:
    for section, notes in notes_of_settings().items():
        stated, defaults = _section(settings, section), _section(default_settings(), section)
        for key, note in notes.items():
            says_nothing = key not in stated or stated[key] == defaults.get(key) == []
            value = "" if says_nothing else _joined(stated[key])
            yield {"section": section, "key": key, "value": value, NOTES_COLUMN: note.what}


def _section(settings: Mapping[str, Any], section: str) -> Mapping[str, Any]:
    inside: Any = settings
    for part in section.split("."):
        inside = inside.get(part, {})
    return dict(inside)


def _label_rows(columns: Columns, documents: Mapping[str, dict[str, Any]]) -> Iterator[dict[str, object]]:
    for label, document in documents.items():
        for use, table in _tables_for(columns, document):
            stated = {"label": label, "use": use, **table}
            yield {name: _joined(stated[name]) for name in columns.all if name in stated}


def _tables_for(columns: Columns, document: Mapping[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """The tables of a label file that stand in a sheet, each with the use that it is part of."""
    if columns == LABELS:
        yield "", {**document, **document.get("withdrawal", {}), **document.get("limits", {})}
        return
    part = columns.sheet.removesuffix("s")
    for table in document.get(part, []):
        yield "", table
    for use in document["use"]:
        for table in use.get(part, []):
            yield use["id"], table


def _joined(value: object) -> object:
    """A value of TOML as one cell holds it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        return "; ".join(f"{key}:{part}" for key, part in value.items())
    if not isinstance(value, list):
        return value
    if value and isinstance(value[0], Mapping):
        return "; ".join(":".join(map(str, table.values())) for table in value)
    if len(value) == 2 and all(isinstance(one, int) for one in value):
        return f"{value[0]}-{value[1]}"
    joined = "; ".join(map(str, value)) or _NO_ENTRIES
    return joined if list_parts(joined) == value else "; ".join(map(_as_rule, value))


def _as_rule(entry: object) -> str:
    text = str(entry)
    return f"RRULE:{text}" if "=" in text and not text.upper().startswith("RRULE:") else text
