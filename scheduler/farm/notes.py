"""What a workbook tells the keeper of its sheets, columns and settings."""

import tomllib
from collections.abc import Mapping
from functools import cache
from typing import Any, Literal

from msgspec import Struct

from scheduler.words import package_text

ColumnKind = Literal["text", "day", "number", "words", "names", "list"]


class Note(Struct, frozen=True, kw_only=True):
    """What a column or a setting holds. words: those that it may hold, if any. of: the sheet that holds its names."""

    kind: ColumnKind
    what: str
    words: tuple[str, ...] = ()
    of: str = ""
    example: object = ""


class SheetNotes(Struct, frozen=True, kw_only=True):
    """What a sheet is for, and its columns."""

    about: str
    columns: Mapping[str, Note]


@cache
def notes_of_sheets() -> Mapping[str, SheetNotes]:
    """The notes of every sheet, by name, in the order that they are shown in (columns.toml)."""
    sheets = tomllib.loads(package_text("scheduler.farm", "columns.toml"))
    return {name: SheetNotes(about=sheet.pop("about"), columns=_notes(sheet)) for name, sheet in sheets.items()}


@cache
def notes_of_settings() -> Mapping[str, Mapping[str, Note]]:
    """The notes of every setting, by section and key (settings_notes.toml)."""
    sections = tomllib.loads(package_text("scheduler.farm", "settings_notes.toml"))
    return {name: _notes(section) for name, section in sections.items()}


def _notes(entries: Mapping[str, Mapping[str, Any]]) -> dict[str, Note]:
    return {
        name: Note(
            kind=entry["kind"],
            what=entry["what"],
            words=tuple(entry.get("words", ())),
            of=entry.get("of", ""),
            example=entry.get("example", ""),
        )
        for name, entry in entries.items()
    }
