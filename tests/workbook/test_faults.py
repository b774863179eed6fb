"""Wrong cells of a workbook are said as those of text files are, with sheet and cell."""

from datetime import date, datetime

import pytest

from scheduler.farm import Farm, read_farm
from tests.farm.lawful import LABEL, LAWFUL, TODAY, faults, said, texts
from tests.workbook.books import book_of, changed, faults_of, lawful_book, read, saved


def test_the_lawful_farm_is_lawful_as_a_workbook_of_another_program() -> None:
    assert faults_of(saved(lawful_book())) == []


def test_five_faults_at_once_name_sheet_and_cell() -> None:
    book = lawful_book()
    book["groups"]["E2"] = "4O"
    book["sales"]["B2"] = "Top lambs"
    book["doses"]["C3"] = 20
    book["risk"]["D2"] = 6
    book["farm"]["C13"] = "POUND"
    assert book["farm"]["B13"].value == "currency"
    assert faults_of(saved(book)) == [
        "farm.xlsx, sheet doses, cell C3, above_kg: found 20; the band before ends at 25; "
        "bands must not overlap; write 25.",
        'farm.xlsx, sheet farm, cell C13, value: found "POUND"; expected the ISO 4217 code of a currency; '
        'write, for example, "GBP" or "EUR".',
        'farm.xlsx, sheet groups, cell E2, heaviest_kg: found "4O"; expected kilograms from 1 to 200; '
        "write it in digits, for example 40.",
        'farm.xlsx, sheet risk, cell D2, level: found "6"; expected a level from 0 to 1; '
        "if 6 per cent is meant, write 0.06.",
        'farm.xlsx, sheet sales, cell B2, group: found "Top lambs"; no such group; '
        'did you mean "Top lamb" (farm.xlsx, sheet groups, row 3)?',
    ]


@pytest.mark.parametrize(
    ("sheet", "cell", "value", "file", "old", "new"),
    [
        ("groups", "C2", "1OO", "groups.csv", "Ewes,ewe,100", "Ewes,ewe,1OO"),
        ("groups", "B3", "lambs", "groups.csv", "Top lamb,lamb", "Top lamb,lambs"),
        ("sales", "C2", 91, "sales.csv", "Top lamb,60", "Top lamb,91"),
        ("sales", "D2", "20/08/2027", "sales.csv", "2027-08-20", "20/08/2027"),
        ("events", "C2", "Ewes; Rms", "events.csv", "lambing,Ewes", "lambing,Ewes; Rms"),
        ("uses", "D2", "guard", "labels/pour.toml", 'purpose = "prevent"', 'purpose = "guard"'),
        ("packs", "B2", 0, "labels/pour.toml", "ml = 2500", "ml = 0"),
        ("repeats", "C2", 0, "labels/pour.toml", "after_days = 21", "after_days = 0"),
        ("labels", "J2", "none", "labels/pour.toml", "meat = 8", 'meat = "none"'),
    ],
)
def test_what_is_said_is_what_is_said_of_text_files(
    sheet: str, cell: str, value: object, file: str, old: str, new: str
) -> None:
    (of_text,) = faults({file: LAWFUL[file].replace(old, new)})
    (of_book,) = faults_of(changed(sheet, {cell: value}))
    assert f"sheet {sheet}, " in of_book
    found, expected, _ = of_text.partition(": ")[2].split("; ", 2)
    assert found.replace('"', "") in of_book.replace('"', "")
    assert expected.replace("farm.toml", "the sheet farm").partition(" (")[0] in of_book


def test_unknown_sheets_are_named_with_the_nearest_known_one() -> None:
    book = lawful_book()
    del book["sales"]
    book.create_sheet("sale")
    book.create_sheet("Tabelle1").sheet_state = "hidden"
    book.create_sheet("my sums")["A1"] = "=1/0"
    unknown, nearest = faults_of(saved(book))
    assert unknown.startswith(
        "farm.xlsx, sheet Tabelle1: found a hidden sheet of this name; no such sheet; known: farm,"
    )
    assert unknown.endswith('delete it, or let its name begin with "my ".')
    assert nearest.endswith('did you mean "sales"?')


def test_the_sheets_farm_and_groups_are_required() -> None:
    assert faults_of(book_of({"risk": [["target", "from", "to", "level"]]})) == [
        "farm.xlsx, sheet farm: found no such sheet; it is required; add it with the columns section, key, value.",
        "farm.xlsx, sheet groups: found no such sheet; it is required; add it with the columns group, kind, head.",
    ]


def test_unknown_columns_and_settings_are_named_with_the_nearest_known_one() -> None:
    book = lawful_book()
    book["farm"]["B3"] = "contry"
    book["farm"]["A4"] = "frm"
    book["mobs"]["C1"] = "peple"
    mends = [line.rpartition("; ")[2] for line in faults_of(saved(book))]
    assert 'did you mean "country"?' in mends
    assert 'did you mean "farm"?' in mends
    assert 'did you mean "people"?' in mends


def test_a_setting_twice_is_a_fault() -> None:
    book = lawful_book()
    book["farm"].append(["farm", "name", "Another"])
    (line,) = faults_of(saved(book))
    assert "found farm.name again; it stands in row 2 already" in line


def test_dates_are_read_whatever_the_order_that_text_is_written_in() -> None:
    book = lawful_book()
    dates = next(row for row in book["farm"].iter_rows() if row[1].value == "dates")
    dates[2].value = "day-month-year"
    book["sales"]["D3"] = "20/09/2027"
    farm = read(saved(book))
    assert isinstance(farm, Farm), farm
    assert [sale.day for sale in farm.sales] == [date(2027, 8, 20), date(2027, 9, 20)]


def test_a_number_in_the_place_of_a_date_is_said_to_be_the_day_it_would_be() -> None:
    book = lawful_book()
    book["sales"]["D2"] = 46619
    book["sales"]["D2"].number_format = "General"
    (line,) = faults_of(saved(book))
    assert line.endswith('found "46619"; expected a date; if 2027-08-20 is meant, format the cell as a date.')


@pytest.mark.parametrize(
    ("sheet", "cell", "value", "words"),
    [
        ("sales", "D2", datetime.fromisoformat("2027-08-20T13:00"), "expected a day, without a time"),
        ("record", "J2", date(2026, 12, 1), "found 2026-12-01; expected text; format the cell as text"),
        ("uses", "E2", date(2026, 6, 4), "expected the least and the most, the least first; write, as text"),
        ("uses", "E2", "42 to 56", "expected the least and the most"),
        ("uses", "K2", "befor:0", 'did you mean "before"?'),
        ("labels", "S2", "organophosphate", "as name:value, parted by ;"),
        ("groups", "M2", True, "found true; expected one of: yes, no"),
        ("labels", "I2", "perhaps", "expected true or false"),
        ("labels", "A2", "pour/on", "expected a name without / ; and #"),
        ("labels", "A2", None, "fill in label"),
        ("packs", "A2", "por", 'did you mean "pour" (farm.xlsx, sheet labels, row 2)?'),
        ("doses", "B2", "gard", 'did you mean "guard" (farm.xlsx, sheet uses, row 2)?'),
    ],
)
def test_what_a_cell_cannot_hold_is_said_once(sheet: str, cell: str, value: object, words: str) -> None:
    lines = faults_of(changed(sheet, {cell: value}))
    assert [line for line in lines if f"sheet {sheet}, " in line and words in line]
    assert len(lines) == 1


def test_settings_in_pairs_keep_the_other_defaults() -> None:
    book = lawful_book()
    for row in list(book["farm"].iter_rows()):
        if row[0].value == "plan.act_level":
            row[2].value = None
    book["farm"].append(["plan", "act_level", "ticks:0.4; lice:0.25"])
    book["farm"].append(["plan", "recheck_days", "in_season 7"])
    (line,) = faults_of(saved(book))
    assert "expected names with a value each" in line
    book["farm"].delete_rows(book["farm"].max_row)
    farm = read(saved(book))
    assert isinstance(farm, Farm), farm
    assert {target: str(level) for target, level in farm.settings.act_level.items()} == {
        "blowfly-strike": "0.3", "ticks": "0.4", "head-fly": "0.5", "lice": "0.25", "scab": "0.5",
    }  # fmt: skip


def test_closed_days_may_hold_a_calendars_rule() -> None:
    book = lawful_book()
    row = next(row for row in book["farm"].iter_rows() if row[1].value == "closed")
    row[2].value = "every Sunday; FREQ=YEARLY;BYMONTH=8;BYMONTHDAY=1; 2027-06-12"
    farm = read(saved(book))
    assert isinstance(farm, Farm), farm
    assert [len(entry.days) > 1 for entry in farm.settings.closed] == [True, True, False]
    assert {entry.where.row for entry in farm.settings.closed} == {row[0].row}
    assert [entry.where.key for entry in farm.settings.closed] == [f"work.closed[{number}]" for number in (1, 2, 3)]


def test_a_label_needs_packs_uses_and_doses() -> None:
    book = lawful_book()
    for sheet in ("packs", "doses", "repeats"):
        book[sheet].delete_rows(2, 5)
    assert faults_of(saved(book)) == [
        f"farm.xlsx, sheet {place}: found no row of it in the sheet {lacks}; expected at least one; write one there."
        for place, lacks in (("labels, row 2", "packs"), ("uses, row 2", "doses"))
    ]


def test_a_folder_holds_text_files_or_a_workbook() -> None:
    book = saved(lawful_book())
    assert said(read_farm({**texts(), "farm.xlsx": book}, TODAY)) == [
        "farm.xlsx: found farm.xlsx and farm.toml; expected one of the two; keep the one that is up to date."
    ]
    assert said(read_farm({"farm.xlsx": book, "sales.csv": b"", "labels/pour.toml": LABEL.encode()}, TODAY)) == [
        f"{name}: found it beside farm.xlsx; the farm is read from farm.xlsx alone; move it into the workbook or away."
        for name in ("labels/pour.toml", "sales.csv")
    ]


@pytest.mark.parametrize("name", ["farm.xls", "farm.xlsm", "farm.ods", "Farm.xlsx"])
def test_a_workbook_of_another_kind_or_name_is_named(name: str) -> None:
    (line,) = said(read_farm({name: b""}, TODAY))
    assert line.startswith(f"{name}: found a file of this name")
    assert 'did you mean "farm.xlsx"?' in line
