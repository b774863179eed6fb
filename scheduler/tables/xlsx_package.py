"""The parts of a workbook that say what it holds: names of sheets, date system; and the values of a sheet."""

import io
import zipfile
from collections.abc import Mapping
from datetime import date

from msgspec import Struct

from scheduler.tables.xlsx_texts import formats_alone, shared_texts
from scheduler.tables.xlsx_xml import Attributes, walk

_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_LINKS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PACKED = "http://schemas.openxmlformats.org/package/2006/relationships"
_BOOK, _BOOK_LINKS = "xl/workbook.xml", "xl/_rels/workbook.xml.rels"
_TEXTS, _FORMATS = "xl/sharedStrings.xml", "xl/styles.xml"
_ZERO_OF_1900, _ZERO_OF_1904 = date(1899, 12, 30), date(1904, 1, 1)  # ECMA-376, part 1, 18.17.4.1


class BrokenPackage(Exception):
    """A workbook whose parts do not fit together. It does not leave the package."""


class SheetEntry(Struct, frozen=True):
    """A sheet as the workbook lists it; `part` is the name of its XML part."""

    name: str
    part: str
    hidden: bool


class Package(Struct, frozen=True):
    """The parts by name, the sheets in their order, the day that numbers of days count from, shared texts, formats."""

    parts: Mapping[str, bytes]
    sheets: tuple[SheetEntry, ...]
    day_zero: date
    texts: tuple[str, ...]
    formats: bytes

    @staticmethod
    def of(parts: Mapping[str, bytes]) -> "Package":
        """The package of these parts. Raises BrokenXml or BrokenPackage."""
        if _BOOK not in parts or _BOOK_LINKS not in parts:
            raise BrokenPackage
        targets: dict[str, str] = {}
        listed: list[Attributes] = []
        counts_from_1904 = False

        def link(name: str, attributes: Attributes) -> None:
            if name == "Relationship":
                targets[attributes.get("Id", "")] = attributes.get("Target", "")

        def entry(name: str, attributes: Attributes) -> None:
            nonlocal counts_from_1904
            if name == "sheet":
                listed.append({key.rpartition(":")[2]: value for key, value in attributes.items()})
            elif name == "workbookPr":
                counts_from_1904 = attributes.get("date1904", "0") in ("1", "true", "on")

        walk(parts[_BOOK_LINKS], link)
        walk(parts[_BOOK], entry)
        sheets = tuple(_entry(one, targets) for one in listed)
        return Package(
            parts,
            sheets,
            _ZERO_OF_1904 if counts_from_1904 else _ZERO_OF_1900,
            shared_texts(parts[_TEXTS]) if _TEXTS in parts else (),
            formats_alone(parts.get(_FORMATS, b"<styleSheet/>")),
        )

    def sheet_part(self, name: str) -> bytes:
        """The XML of a sheet; of one twice in the list the first. Raises BrokenPackage where it is missing."""
        part = next(sheet.part for sheet in self.sheets if sheet.name == name)
        if part not in self.parts:
            raise BrokenPackage
        return self.parts[part]


def _entry(attributes: Attributes, targets: Mapping[str, str]) -> SheetEntry:
    target = targets.get(attributes.get("id", ""), "")
    part = target.removeprefix("/") if target.startswith("/") else f"xl/{target}"
    return SheetEntry(attributes.get("name", ""), part, attributes.get("state", "visible") != "visible")


def values_of(package: Package, sheet: bytes) -> list[list[object]]:
    """The values of a sheet that was written anew: numbers, dates, times, true or false; "" where empty.

    Raises BrokenPackage where the library finds no sense in a cell.
    """
    from python_calamine import CalamineWorkbook

    try:
        with CalamineWorkbook.from_filelike(io.BytesIO(_alone(package, sheet))) as book:
            return [list(row) for row in book.get_sheet_by_index(0).to_python(skip_empty_area=False)]
    except Exception as error:
        raise BrokenPackage from error
    except BaseException as error:
        if type(error).__name__ == "PanicException":  # how the library's own failures arrive
            raise BrokenPackage from error
        raise


def _alone(package: Package, sheet: bytes) -> bytes:
    """A workbook of this sheet alone, with the package's formats."""
    book = io.BytesIO()
    system = int(package.day_zero == _ZERO_OF_1904)
    parts: dict[str, str | bytes] = {
        "_rels/.rels": _links(f'<Relationship Id="rId1" Type="{_LINKS}/officeDocument" Target="{_BOOK}"/>'),
        _BOOK: f'<workbook xmlns="{_MAIN}" xmlns:r="{_LINKS}"><workbookPr date1904="{system}"/>'
        '<sheets><sheet name="sheet" sheetId="1" r:id="rId1"/></sheets></workbook>',
        _BOOK_LINKS: _links(
            f'<Relationship Id="rId1" Type="{_LINKS}/worksheet" Target="worksheets/sheet1.xml"/>'
            f'<Relationship Id="rId2" Type="{_LINKS}/styles" Target="styles.xml"/>'
        ),
        "xl/worksheets/sheet1.xml": sheet,
        _FORMATS: package.formats,
    }
    with zipfile.ZipFile(book, "w") as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return book.getvalue()


def _links(inside: str) -> str:
    return f'<Relationships xmlns="{_PACKED}">{inside}</Relationships>'
