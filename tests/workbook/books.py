"""Workbooks for tests: made sheet by sheet through openpyxl, or part by part as no program would write them."""

import io
import re
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from openpyxl import Workbook, load_workbook

from scheduler.farm import Farm, read_farm, workbook_of
from scheduler.words import Faults
from tests.farm.lawful import LAWFUL, TODAY, said

FILES = {name: text.encode() for name, text in LAWFUL.items()}
"""The small lawful farm as text files."""

_PLACE = re.compile(r"farm\.xlsx, sheet ([\w-]+)")
SHEET_PART = "xl/worksheets/sheet1.xml"
HEAD = '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>'
FOOT = "</sheetData></worksheet>"


def lawful_book() -> Any:
    """The small lawful farm as an open workbook of openpyxl, to be changed."""
    return load_workbook(io.BytesIO(workbook_of(FILES, TODAY)))


def saved(book: Any) -> bytes:
    """An open workbook as a file."""
    content = io.BytesIO()
    book.save(content)
    return content.getvalue()


def book_of(sheets: Mapping[str, Iterable[Sequence[object]]]) -> bytes:
    """A workbook of these rows."""
    book: Any = Workbook()
    book.remove(book.active)
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
    return saved(book)


def with_parts(content: bytes, changed: Mapping[str, bytes | str]) -> bytes:
    """A workbook of which some parts are others."""
    result = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as before, zipfile.ZipFile(result, "w", zipfile.ZIP_DEFLATED) as after:
        for name in dict.fromkeys([*before.namelist(), *changed]):
            after.writestr(name, changed[name] if name in changed else before.read(name))
    return result.getvalue()


def read(content: bytes, today: date = TODAY) -> Farm | Faults:
    """What a folder with nothing but this workbook is read as."""
    return read_farm({"farm.xlsx": content}, today)


def faults_of(content: bytes) -> list[str]:
    """What is said of a workbook; nothing where it is lawful."""
    return said(read(content))


def changed(sheet: str, cells: Mapping[str, object]) -> bytes:
    """The lawful farm with some cells of a sheet written anew."""
    book = lawful_book()
    for place, value in cells.items():
        book[sheet][place] = value
    return saved(book)


def as_of_files(text: str) -> str:
    """A text that names places in a workbook as it would name them in text files."""
    return _PLACE.sub(lambda match: "farm.toml" if match[1] == "farm" else f"{match[1]}.csv", text)
