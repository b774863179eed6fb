"""`season new --workbook`: what another program (openpyxl) finds in the workbook, and what our gate reads from it."""

import io
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from openpyxl import load_workbook

from scheduler.cli import main
from scheduler.cli.disk import read_folder
from scheduler.farm import Farm, read_farm
from scheduler.farm.notes import notes_of_settings, notes_of_sheets
from scheduler.farm.workbook import SHEETS
from tests.workbook.books import changed, faults_of, read

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def content(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The workbook of a new farm."""
    folder = tmp_path_factory.mktemp("new") / "farm"
    result = CliRunner().invoke(main, ["new", str(folder), "--workbook", "--today", TODAY.isoformat()])
    assert result.exit_code == 0, result.output
    assert [path.name for path in folder.iterdir()] == ["farm.xlsx"]
    return (folder / "farm.xlsx").read_bytes()


@pytest.fixture(scope="module")
def book(content: bytes) -> Any:
    """The same as another program opens it."""
    return load_workbook(io.BytesIO(content))


def named(sheet: Any, column: str) -> Any:
    """The letter of a column of that name."""
    return next(cell.column_letter for cell in sheet[1] if cell.value == column)


def offered(sheet: Any, place: str) -> str | None:
    """What the drop-down of a cell offers, or None."""
    return next((rule.formula1 for rule in sheet.data_validations.dataValidation if place in rule.sqref), None)


def test_a_new_workbook_is_lawful_and_its_season_lies_in_the_year_after_today(content: bytes) -> None:
    farm = read(content, TODAY)
    assert isinstance(farm, Farm), farm
    assert (farm.settings.start, farm.settings.end) == (date(2027, 3, 1), date(2027, 11, 30))
    assert farm.left_out == ()


def test_it_says_the_same_as_the_folder_of_a_new_farm(content: bytes, tmp_path: Path) -> None:
    assert CliRunner().invoke(main, ["new", str(tmp_path / "x"), "--today", TODAY.isoformat()]).exit_code == 0
    of_text, of_book = read_farm(read_folder(tmp_path / "x"), TODAY), read(content, TODAY)
    assert isinstance(of_text, Farm)
    assert isinstance(of_book, Farm)
    assert [group.name for group in of_book.groups] == [group.name for group in of_text.groups]
    assert of_book.settings.act_level == of_text.settings.act_level
    assert list(of_book.labels) == list(of_text.labels)


def test_equal_farms_give_equal_bytes(content: bytes, tmp_path: Path) -> None:
    CliRunner().invoke(main, ["new", str(tmp_path / "again"), "--workbook", "--today", TODAY.isoformat()])
    assert (tmp_path / "again" / "farm.xlsx").read_bytes() == content


@pytest.mark.parametrize("columns", SHEETS, ids=[columns.sheet for columns in SHEETS])
def test_every_sheet_has_every_column_a_fixed_header_and_an_example(book: Any, columns: Any) -> None:
    sheet = book[columns.sheet]
    header = [cell.value for cell in sheet[1]]
    assert [name for name in header if not name.startswith("my ")] == list(columns.all)
    assert [cell.font.bold for cell in sheet[1]][: len(columns.required)] == [True] * len(columns.required)
    assert sheet.freeze_panes == "A2"
    no_example = columns.sheet in ("weather", "directions")  # see test_new_farm: none may stand there by accident
    assert (sheet["A2"].value is None) is no_example


def test_columns_of_words_have_drop_downs_of_just_those_words(book: Any) -> None:
    for name, notes in notes_of_sheets().items():
        for column, note in notes.columns.items():
            if note.kind == "words":
                assert offered(book[name], f"{named(book[name], column)}900") == f'"{",".join(note.words)}"'


def test_settings_of_words_have_drop_downs_too(book: Any) -> None:
    row = next(row for row in book["farm"].iter_rows() if row[1].value == "caution")
    assert offered(book["farm"], row[2].coordinate) == '"high,middle,low"'


def test_groups_and_labels_are_chosen_from_their_sheets(book: Any) -> None:
    assert offered(book["sales"], "B2") == "groups!$A$2:$A$1000"
    assert offered(book["stock"], "A5") == "labels!$A$2:$A$1000"


def test_days_are_dates_and_empty_cells_below_are_formatted_as_such(book: Any) -> None:
    sheet = book["sales"]
    letter = named(sheet, "date")
    assert sheet[f"{letter}2"].value == datetime.fromisoformat("2027-08-25")
    assert sheet[f"{letter}2"].is_date
    formats = [one.number_format for key, one in sheet.column_dimensions.items() if key == letter]
    assert formats == ["yyyy-mm-dd"]


def test_text_that_a_program_would_make_a_date_of_is_formatted_as_text(book: Any) -> None:
    sheet = book["uses"]
    assert sheet[f"{named(sheet, 'protects_days')}2"].value == "42-56"
    assert sheet[f"{named(sheet, 'protects_days')}2"].number_format == "@"


def test_no_cell_holds_a_formula(book: Any) -> None:
    assert [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.data_type == "f"] == []


def test_the_notes_explain_every_column_with_an_example(book: Any) -> None:
    rows = [[cell.value for cell in row] for row in book["my notes"].iter_rows()]
    explained = [row[1] for row in rows if row[5] and str(row[5]).startswith("for example ")]
    assert explained == [column for columns in SHEETS for column in columns.all]
    assert any("your vet and the law of your country decide" in str(row[0]) for row in rows)


def test_every_setting_is_explained_beside_it(book: Any) -> None:
    rows = [[cell.value for cell in row] for row in book["farm"].iter_rows(min_row=2)]
    assert [(section, key) for section, key, _, _ in rows] == [
        (section, key) for section, keys in notes_of_settings().items() for key in keys
    ]
    assert all(note for _, _, _, note in rows)


def test_notes_speak_of_just_the_columns_that_there_are() -> None:
    assert {name: set(notes.columns) for name, notes in notes_of_sheets().items()} == {
        columns.sheet: set(columns.all) for columns in SHEETS
    }


def test_every_word_of_a_drop_down_is_known_and_no_other() -> None:
    for name, notes in notes_of_sheets().items():
        for column, note in notes.columns.items():
            if note.kind != "words" or column == "prescription":
                continue
            order = next(columns.all for columns in SHEETS if columns.sheet == name)
            place = f"{'ABCDEFGHIJKLMNOPQRSTUVWXYZ'[order.index(column)]}2"
            said = [
                line for line in faults_of(changed(name, {place: "no such word"})) if f"{place}, {column}: " in line
            ]
            assert said, (name, column)
            assert f"expected one of: {', '.join(note.words)};" in said[0]


@pytest.mark.parametrize("name", ["fellside", "lowland-organic", "southern"])
def test_a_sample_farm_keeps_its_story_beside_its_workbook(tmp_path: Path, name: str) -> None:
    result = CliRunner().invoke(main, ["new", str(tmp_path / name), "--like", name, "--workbook"])
    assert result.exit_code == 0
    assert sorted(path.name for path in (tmp_path / name).iterdir()) == ["README.md", "farm.xlsx"]
    assert isinstance(read_farm(read_folder(tmp_path / name), date(2027, 9, 1)), Farm)


def test_the_command_says_what_to_do_next(tmp_path: Path) -> None:
    result = CliRunner().invoke(main, ["new", str(tmp_path / "farm"), "--workbook", "--today", "2026-11-25"])
    assert f"Open{tmp_path / 'farm' / 'farm.xlsx'};" in "".join(result.stdout.split())
    assert "your vet" in result.stdout
