"""Workbooks that no keeper makes end in faults, without much time or memory, and never in an exception."""

import io
import zipfile
from datetime import date, datetime, time, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE

from scheduler.farm import Farm
from scheduler.tables import limit
from scheduler.words import Faults
from tests.workbook.books import FOOT, HEAD, changed, faults_of, lawful_book, read, saved, with_parts

SHEETS = [
    "farm",
    "groups",
    "events",
    "sales",
    "risk",
    "weather",
    "findings",
    "record",
    "labels",
    "packs",
    "uses",
    "doses",
]
PARTS = [f"xl/worksheets/sheet{number}.xml" for number in (1, 2, 6, 15)]
OTHER_PARTS = ["xl/workbook.xml", "xl/styles.xml", "xl/_rels/workbook.xml.rels"]
LAWFUL_BOOK = saved(lawful_book())
GROUPS = "xl/worksheets/sheet2.xml"


def part(name: str) -> str:
    """The text of a part of the lawful workbook."""
    with zipfile.ZipFile(io.BytesIO(LAWFUL_BOOK)) as archive:
        return archive.read(name).decode()


def with_rows(rows: str) -> bytes:
    """The lawful workbook with more rows at the end of its sheet groups."""
    return with_parts(LAWFUL_BOOK, {GROUPS: part(GROUPS).replace("</sheetData>", f"{rows}</sheetData>")})


def refused(content: bytes, words: str) -> None:
    """One fault, that holds these words."""
    (line,) = faults_of(content)
    assert words in line


def is_read(content: bytes) -> bool:
    """Whether the workbook ends in a farm or in faults."""
    found = read(content)
    return isinstance(found, Farm) or (isinstance(found, Faults) and bool(found.items))


@pytest.mark.parametrize("cells", ["", '<c r="A{n}" s="1"/>'])
def test_a_million_empty_rows_are_passed_over(cells: str) -> None:
    rows = "".join(f'<row r="{n}">{cells.format(n=n)}</row>' for n in range(5, 1_000_005))
    assert faults_of(with_rows(rows)) == []


def test_a_cell_in_the_last_corner_is_refused() -> None:
    refused(with_rows('<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>'), "row 1048576: more than 5000 rows")


def test_rows_that_reach_far_to_the_right_are_refused() -> None:
    cells = '<c r="A{n}" t="str"><v>x{n}</v></c><c r="XFD{n}"><v>5</v></c>'
    rows = "".join(f'<row r="{n}">{cells.format(n=n)}</row>' for n in range(5, 2000))
    refused(with_rows(rows), "rows in 16384 columns")


def test_too_many_rows_are_refused() -> None:
    rows = "".join(f'<row r="{n}"><c r="A{n}" t="str"><v>x{n}</v></c></row>' for n in range(5, limit("rows") + 9))
    assert any("more than 5000 rows" in line for line in faults_of(with_rows(rows)))


def test_what_unpacks_to_too_much_is_refused_before_it_is_unpacked() -> None:
    bomb = with_parts(LAWFUL_BOOK, {GROUPS: b"0" * (limit("workbook_bytes") + 1)})
    assert len(bomb) < limit("file_bytes")
    refused(bomb, "bytes once unpacked; expected at most")


def test_a_directory_that_states_too_small_a_size_is_refused() -> None:
    packed = with_parts(LAWFUL_BOOK, {"xl/workbook.xml": b"0" * 10_000_000})
    place = packed.index(b"PK\x01\x02")
    while not packed[place + 46 :].startswith(b"xl/workbook.xml"):
        place = packed.index(b"PK\x01\x02", place + 4)
    refused(packed[: place + 24] + (1000).to_bytes(4, "little") + packed[place + 28 :], "no readable workbook")


def test_very_many_packed_files_are_refused() -> None:
    refused(with_parts(LAWFUL_BOOK, {f"{number}.bin": b"" for number in range(1001)}), "files packed in it")


@pytest.mark.parametrize("content", [b"", b"x", b"PK\x03\x04" + bytes(99), LAWFUL_BOOK[:5000], LAWFUL_BOOK[:-30]])
def test_what_is_no_workbook_is_refused(content: bytes) -> None:
    refused(content, "no readable workbook")


def test_parts_packed_in_a_way_that_no_workbook_may_be_are_refused() -> None:
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", zipfile.ZIP_LZMA) as archive:
        archive.writestr("xl/workbook.xml", part("xl/workbook.xml"))
    refused(content.getvalue(), "no readable workbook")


def test_a_workbook_under_a_password_is_refused() -> None:
    refused(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "under a password")


@pytest.mark.parametrize("name", [GROUPS, "xl/workbook.xml", "xl/styles.xml"])
def test_document_types_are_refused(name: str) -> None:
    inside = '<!DOCTYPE a [<!ENTITY a "aaaa"><!ENTITY b SYSTEM "file:///etc/passwd">]>'
    refused(with_parts(LAWFUL_BOOK, {name: inside + part(name)}), "read")


@pytest.mark.parametrize(
    "row",
    [
        '<row r="5"><c r="ZZZZZZZZZ5"><v>7</v></c></row>',
        '<row r="5"><c r="A99999999999999"><v>7</v></c></row>',
        '<row r="5"><c r="A6"><v>7</v></c></row>',
        '<row r="2"><c r="A2"><v>7</v></c></row>',
        '<row r="5"><c r="B5"><v>7</v></c><c r="A5"><v>7</v></c></row>',
        '<c r="A4"><v>7</v></c>',
        '<row r="0"/>',
        '<row r="5"><c r="A5" t="s"><v>999999999</v></c></row>',
        '<row r="5"><c r="A5" t="s"><v>-1</v></c></row>',
        '<row r="5"><c r="A5" t="b"><v>7</v></c></row>',
        '<row r="5"><c r="A5" t="what"><v>7</v></c></row>',
        '<row r="5"><c r="A5"><v>seven</v></c></row>',
        '<row r="5">',
    ],
)
def test_references_that_no_program_writes_are_refused(row: str) -> None:
    refused(with_rows(row), "found a sheet that cannot be read")


@pytest.mark.parametrize("size", ['uniqueCount="4294967295"', 'count="-1"'])
def test_sizes_that_are_promised_are_not_believed(size: str) -> None:
    texts = f'<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" {size}><si><t>x</t></si></sst>'
    assert faults_of(with_parts(LAWFUL_BOOK, {"xl/sharedStrings.xml": texts})) == []


def test_macros_are_neither_run_nor_read() -> None:
    assert faults_of(with_parts(LAWFUL_BOOK, {"xl/vbaProject.bin": b"\xd0\xcf\x11\xe0" * 100})) == []


def test_a_formula_is_read_as_its_last_result() -> None:
    row = '<c r="C2"><f>50+50</f><v>101</v></c>'
    sheet = part(GROUPS)
    start = sheet.index('<c r="C2"')
    end = sheet.index("</c>", start) + 4
    farm = read(with_parts(LAWFUL_BOOK, {GROUPS: sheet[:start] + row + sheet[end:]}))
    assert isinstance(farm, Farm)
    assert farm.groups[0].head == 101


def test_a_formula_without_a_result_and_an_error_are_faults() -> None:
    refused(changed("groups", {"C2": "=50+50"}), "cell C2, head: found a formula without its result")
    book = lawful_book()
    book["groups"]["E2"] = "#N/A"
    refused(saved(book), "cell E2, heaviest_kg: found the error #N/A")


def test_errors_and_formulas_in_the_keepers_own_columns_are_left_alone() -> None:
    assert faults_of(changed("groups", {"R1": "my sum", "R2": "=1/0", "R3": "#REF!"})) == []


def test_merged_cells_in_a_table_are_a_fault() -> None:
    book = lawful_book()
    book["groups"].merge_cells("D2:D3")
    refused(saved(book), "cell D2, mob: found the cells D2 to D3 merged")


def test_merged_cells_beside_a_table_are_left_alone() -> None:
    book = lawful_book()
    book["groups"].merge_cells("T1:V9")
    assert faults_of(saved(book)) == []


def test_hidden_sheets_rows_and_columns_are_read_as_others() -> None:
    book = lawful_book()
    book["sales"].sheet_state = "veryHidden"
    book["sales"].row_dimensions[2].hidden = True
    book["groups"].column_dimensions["C"].hidden = True
    farm = read(saved(book))
    assert isinstance(farm, Farm)
    assert len(farm.sales) == 2


CELLS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**12), 10**12),
    st.floats(allow_nan=False, allow_infinity=False),
    st.dates(date(1900, 3, 1), date(9999, 12, 31)),
    st.datetimes(datetime.fromisoformat("1900-03-01"), datetime.fromisoformat("2999-01-01")),
    st.times().map(lambda one: time(one.hour, one.minute)),
    st.timedeltas(timedelta(0), timedelta(9999)),
    st.sampled_from(["#N/A", "#REF!", "=1/0", "=A1", "4,5", "1.000,00", "guard", "Ewes", "42-56", "a:b; c:d", "all"]),
    st.text(max_size=9).map(lambda text: ILLEGAL_CHARACTERS_RE.sub("", text)),
)


@given(st.sampled_from(SHEETS), st.integers(1, 5), st.integers(1, 20), CELLS)
@settings(max_examples=150, deadline=None)
def test_any_value_in_any_cell_ends_in_a_farm_or_faults(sheet: str, row: int, column: int, value: Any) -> None:
    book = lawful_book()
    book[sheet].cell(row, column).value = value
    assert is_read(saved(book))


@given(st.sampled_from(PARTS + OTHER_PARTS), st.data())
@settings(max_examples=200, deadline=None)
def test_a_small_change_of_a_part_ends_in_a_farm_or_faults(name: str, data: st.DataObject) -> None:
    before = part(name).encode()
    start = data.draw(st.integers(0, len(before)))
    end = data.draw(st.integers(start, min(len(before), start + 12)))
    pieces = st.sampled_from([b"", b"9" * 12, b"<", b'"', b"-", b"XFD", b' t="s"', b"4294967296", b"&#66;", b"<c/>"])
    piece = data.draw(st.one_of(pieces, st.binary(max_size=4)))
    assert is_read(with_parts(LAWFUL_BOOK, {name: before[:start] + piece + before[end:]}))


@given(st.lists(st.tuples(st.integers(0, len(LAWFUL_BOOK) - 1), st.integers(0, 255)), max_size=5))
@settings(max_examples=100, deadline=None)
def test_any_changed_bytes_end_in_a_farm_or_faults(changes: list[tuple[int, int]]) -> None:
    content = bytearray(LAWFUL_BOOK)
    for place, byte in changes:
        content[place] = byte
    assert is_read(bytes(content))


def test_a_sheet_without_a_cell_has_no_header() -> None:
    assert any("found no header" in line for line in faults_of(with_parts(LAWFUL_BOOK, {GROUPS: HEAD + FOOT})))


def test_two_sheets_of_one_name_are_a_fault() -> None:
    book = part("xl/workbook.xml").replace('name="mobs"', 'name="groups"')
    assert "farm.xlsx, sheet groups: found 2 sheets of this name; expected one; delete or rename the others." in (
        faults_of(with_parts(LAWFUL_BOOK, {"xl/workbook.xml": book}))
    )


@pytest.mark.parametrize("encoding", ["UT-8", "base64", "utf-16", "idna"])
def test_an_encoding_that_a_part_claims_is_not_believed(encoding: str) -> None:
    claimed = f'<?xml version="1.0" encoding="{encoding}"?>{part("xl/workbook.xml")}'
    assert faults_of(with_parts(LAWFUL_BOOK, {"xl/workbook.xml": claimed})) == []
