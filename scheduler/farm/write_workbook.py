"""Writes a farm as one workbook to fill in: drop-downs, date formats, fixed headers, and a sheet of notes."""

import io
from collections.abc import Mapping
from datetime import date, datetime
from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING

from scheduler.farm.as_sheets import NOTES_COLUMN, Row, as_sheets
from scheduler.farm.notes import Note, notes_of_settings, notes_of_sheets
from scheduler.farm.workbook import FARM_SHEET, SHEETS
from scheduler.tables import SHOWN_DIGITS, Columns

if TYPE_CHECKING:
    from xlsxwriter import Workbook
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

NOTES_SHEET = "my notes"
_LAST_ROW = 1_000
"""Row down to which formats and drop-downs of an empty table reach: far below what a farm fills in."""
_INTRODUCTION = (
    "Each sheet is a table, and row 1 names its columns. Those printed bold must be filled in.",
    'Sheets and columns whose name begins with "my " are yours and are not read, so this sheet may stay or go.',
    "Rows that call themselves examples or invented are: replace them with your own, or delete them.",
    "Cells formatted as dates are read as dates. A formula is read as the value that was last saved with it.",
    "The label in your hand, your vet and the law of your country decide, not this workbook.",
)


def workbook_of(texts: Mapping[str, bytes], today: date) -> bytes:
    """The workbook of a lawful farm given as text files by their names. Equal input gives equal bytes.

    today: the day that the workbook states as that of its making.
    """
    from xlsxwriter import Workbook

    rows = as_sheets(texts)
    content = io.BytesIO()
    with Workbook(content, {"in_memory": True}) as book:
        book.set_properties({"created": datetime(today.year, today.month, today.day)})  # noqa: DTZ001 (a date alone)
        formats = _formats(book)
        for columns in SHEETS:
            _write_sheet(book.add_worksheet(columns.sheet), columns, rows[columns.sheet], formats)
        _write_notes(book.add_worksheet(NOTES_SHEET), today.year, formats)
    return content.getvalue()


def _formats(book: "Workbook") -> "dict[str, Format]":
    kinds = {
        "required": {"bold": True, "bottom": 1},
        "header": {"bottom": 1},
        "day": {"num_format": "yyyy-mm-dd", "align": "left"},
        "text": {"num_format": "@"},
        "number": {},
        "wrapped": {"text_wrap": True, "valign": "top"},
        "bold": {"bold": True},
    }
    return {name: book.add_format(properties) for name, properties in kinds.items()}


def _write_sheet(sheet: "Worksheet", columns: Columns, rows: list[Row], formats: "dict[str, Format]") -> None:
    names = [*columns.all, *([NOTES_COLUMN] if columns == FARM_SHEET else [])]
    notes = notes_of_sheets()[columns.sheet].columns
    sheet.freeze_panes(1, 0)
    for index, name in enumerate(names):
        note = notes.get(name, Note(kind="text", what=""))
        in_column = [row[name] for _, row in rows if row.get(name)]
        widest = max([len(name), *(len(str(value)) for value in in_column)])
        sheet.set_column(index, index, min(60, widest + 3), _format(note, formats))
        sheet.write_string(0, index, name, formats["required" if name in columns.required else "header"])
        if columns != FARM_SHEET:
            _offer(sheet, (1, index, max(_LAST_ROW, len(rows) + 1)), note)
    for number, row in rows:
        for index, name in enumerate(names):
            note = notes.get(name, Note(kind="text", what=""))
            if columns == FARM_SHEET and name == "value":
                note = notes_of_settings()[str(row["section"])][str(row["key"])]
                _offer(sheet, (number - 1, index, number - 1), note)
            _write(sheet, number - 1, index, row.get(name, ""), note, formats)


def _format(note: Note, formats: "dict[str, Format]") -> "Format":
    return formats[note.kind if note.kind in ("day", "number") else "text"]


def _offer(sheet: "Worksheet", place: tuple[int, int, int], note: Note) -> None:
    """Gives the cells of a column from one row to another a drop-down, where there is a list to choose from."""
    first, column, last = place
    if note.kind == "words":
        sheet.data_validation(first, column, last, column, {"validate": "list", "source": list(note.words)})
    elif note.kind == "names":
        source = f"={note.of}!$A$2:$A${_LAST_ROW}"
        rule = {"validate": "list", "source": source, "error_type": "warning"}
        sheet.data_validation(first, column, last, column, rule)


def _write(sheet: "Worksheet", row: int, column: int, value: object, note: Note, formats: "dict[str, Format]") -> None:
    """Writes a value as what its column holds; text that is no date or number stays text. Never a formula."""
    own = _format(note, formats)
    number = _number(value) if note.kind == "number" else None
    if value == "":
        sheet.write_blank(row, column, None, own)
    elif isinstance(value, date):
        sheet.write_datetime(row, column, value, formats["day"])
    elif number is not None:
        sheet.write_number(row, column, float(number), own)
    else:
        sheet.write_string(row, column, str(value), own)


def _number(value: object) -> Decimal | None:
    """The number that a cell of a workbook keeps to the last digit, or None."""
    try:
        number = Decimal(str(value))
    except InvalidOperation:
        return None
    return number if number.is_finite() and len(number.as_tuple().digits) <= SHOWN_DIGITS else None


def _write_notes(sheet: "Worksheet", year: int, formats: "dict[str, Format]") -> None:
    for index, width in enumerate((14, 26, 10, 70, 40, 30)):
        sheet.set_column(index, index, width, formats["wrapped"])
    for number, line in enumerate(_INTRODUCTION):
        sheet.write_string(number, 0, line)
    row = len(_INTRODUCTION) + 1
    for columns in SHEETS:
        notes = notes_of_sheets()[columns.sheet]
        sheet.write_string(row, 0, columns.sheet, formats["bold"])
        sheet.write_string(row, 1, notes.about)
        for name in columns.all:
            row += 1
            _write_note(sheet, row, name, name in columns.required, notes.columns[name], year)
        row += 2


def _write_note(sheet: "Worksheet", row: int, name: str, required: bool, note: Note, year: int) -> None:
    example = str(note.example).replace("@LAST_YEAR@", str(year - 1)).replace("@YEAR@", str(year + 1))
    written = {"day": "a date", "number": "a number", "names": f"a name of the sheet {note.of}"}.get(note.kind, "text")
    if note.words:
        before = {"list": "several of: ", "number": "a number, or "}.get(note.kind, "one of: ")
        written = before + ", ".join(note.words)
    cells = (name, "required" if required else "", note.what, written, f"for example {example}")
    for index, text in enumerate(cells, start=1):
        sheet.write_string(row, index, text)
