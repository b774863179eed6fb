"""How tables may be written: separators, decimal commas, dates, line ends, the keeper's own columns."""

from datetime import date
from decimal import Decimal

import pytest

from scheduler.farm import read_farm
from tests.farm.lawful import LAWFUL, TODAY, farm, faults, said, texts

GROUPS = LAWFUL["groups.csv"]
HEADERS = {name: text.splitlines()[0] for name, text in LAWFUL.items() if name.endswith(".csv")}


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_the_separator_is_seen_from_the_header(separator: str) -> None:
    assert farm({"groups.csv": GROUPS.replace(",", separator)}).groups == farm().groups


def test_with_semicolons_a_decimal_comma_is_read_and_a_point_too() -> None:
    table = "date;tmin;tmax\n2026-05-01;4,5;13\n2026-05-02;-0,25;14.5\n"
    lows = [day.tmin for day in farm({"weather.csv": table}).weather]
    assert lows == [Decimal("4.5"), Decimal("-0.25")]


def test_a_number_with_point_and_comma_is_refused() -> None:
    assert len(faults({"weather.csv": "date;tmin;tmax\n2026-05-01;1.004,5;13\n"})) == 1


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_a_byte_order_mark_make_no_difference(end: str, mark: str) -> None:
    changed = {name: mark + LAWFUL[name].replace("\n", end) for name in LAWFUL if name.endswith(".csv")}
    assert farm(changed) == farm()


def test_farm_toml_may_have_a_byte_order_mark_and_windows_line_ends() -> None:
    assert farm({"farm.toml": "\ufeff" + LAWFUL["farm.toml"].replace("\n", "\r\n")}) == farm()


def test_rows_count_as_a_spreadsheet_shows_them() -> None:
    table = 'group,kind,head,note\n\n  ,,\nEwes,ewe,100,"two\nlines"\nRams,ram,4,\n'
    read = farm({**HEADERS, "groups.csv": table})
    assert [(group.name, group.where.row) for group in read.groups] == [("Ewes", 4), ("Rams", 5)]
    assert read.groups[0].note == "two\nlines"


def test_cells_are_trimmed_and_quotation_marks_may_follow_a_space() -> None:
    table = 'date,what,groups\n 2027-06-19 ,  shearing,  " Ewes ; Rams "\n'
    assert farm({"events.csv": table}).events[0].groups == ("Ewes", "Rams")


def test_the_keepers_own_columns_are_left_alone() -> None:
    table = "my mark,mob,my mark,people\nblue,Hill,red,2\n"
    assert farm({"mobs.csv": table}).mobs[0].people == 2


def test_columns_may_stand_in_any_order() -> None:
    table = "level,to,from,target\n0.6,2027-09-10,2027-06-01,blowfly-strike\n"
    assert farm({"risk.csv": table}) == farm()


def test_all_means_every_group() -> None:
    table = "date,what,groups\n2027-06-19,gather,all\n"
    assert farm({"events.csv": table}).events[0].groups == ("Ewes", "Top lamb", "Rams")


@pytest.mark.parametrize(
    ("order", "written"),
    [
        ("iso", "2027-08-20"), ("iso", "2027/8/20"), ("iso", "2027.08.20"),
        ("day-month-year", "20/08/2027"), ("day-month-year", "20.8.2027"), ("day-month-year", "20-08-2027"),
        ("month-day-year", "08/20/2027"), ("month-day-year", "8-20-2027"),
    ],
)  # fmt: skip
def test_dates_are_read_in_the_order_that_the_farm_states(order: str, written: str) -> None:
    settings = LAWFUL["farm.toml"].replace("[season]", f'dates = "{order}"\n[season]')
    tables = {"groups.csv": "group,kind,head\nEwes,ewe,9\n", "farm.toml": settings}
    sales = f"sale,group,head,date,purpose\nDraft,Ewes,3,{written},store\n"
    assert farm({**HEADERS, **tables, "sales.csv": sales}).sales[0].day == date(2027, 8, 20)


@pytest.mark.parametrize("written", ["20/08/27", "2027-08", "20 Aug 2027", "2027-08-20T00:00", "20/08-2027", "46619"])
def test_other_ways_of_writing_a_date_are_refused(written: str) -> None:
    table = LAWFUL["sales.csv"].replace("2027-08-20", written)
    assert len(faults({"sales.csv": table})) == 1


def test_decimals_are_exact_as_written() -> None:
    settings = LAWFUL["farm.toml"].replace("54.3", "54.300000000000000000001")
    assert str(farm({"farm.toml": settings}).settings.latitude) == "54.300000000000000000001"


@pytest.mark.parametrize("head", ["１２", "12 ", "1_2", "0x12", "1e1", "12.0", "+12"])
def test_a_whole_number_is_ascii_digits(head: str) -> None:
    table = LAWFUL["sales.csv"].replace("Draft,Top lamb,60", f"Draft,Top lamb,{head}")
    lawful = head in ("12 ", "+12")
    assert (faults({"sales.csv": table}) == []) is lawful


def test_letters_of_every_script_may_stand_in_names() -> None:
    renamed = {name: text.replace("Ewes", "Þórs ær ovečky 羊") for name, text in LAWFUL.items()}
    assert said(read_farm(texts(renamed), TODAY)) == []
