"""What spreadsheet programs do to a CSV file when they save it is survived, or named. Habits: common practice."""

import re

import pytest
from msgspec.structs import replace

from scheduler.farm import Farm, read_farm
from tests.farm.lawful import LAWFUL, TODAY, farm, faults, said, texts

TABLES = {name: text for name, text in LAWFUL.items() if name.endswith(".csv")}


def alike(changed: Farm) -> bool:
    """Whether a farm is the lawful one, however its dates are written."""
    lawful = farm()
    settings = replace(changed.settings, dates=lawful.settings.dates)
    return replace(changed, settings=settings, left_out=()) == replace(lawful, left_out=())


def saved_with_semicolons(text: str) -> str:
    """A table as programs save it where the decimal sign is a comma: semicolons, a mark in front, CRLF."""
    return "\ufeff" + text.replace(",", ";").replace(".", ",").replace("\n", "\r\n")


def dated(order: str) -> str:
    """The settings with another order of dates."""
    return LAWFUL["farm.toml"].replace("[season]", f'dates = "{order}"\n[season]')


def test_semicolons_decimal_commas_a_mark_and_windows_line_ends_are_survived_at_once() -> None:
    assert alike(farm({name: saved_with_semicolons(text.replace(";", " ; ")) for name, text in TABLES.items()
                       if ";" not in text}))  # fmt: skip


def test_rows_and_columns_of_separators_after_the_last_are_survived() -> None:
    padded = {
        name: "".join(f"{line}{',' * 300}\n" for line in text.splitlines()) + f"{',' * 310}\n" * 6_000
        for name, text in TABLES.items()
        if len(text) < 2_000
    }
    assert len(padded) > 8
    assert alike(farm(padded))


def test_a_row_that_lacks_its_last_separators_is_survived() -> None:
    bare = {name: "".join(f"{line.rstrip(',')}\n" for line in text.splitlines()) for name, text in TABLES.items()}
    assert alike(farm(bare))


def test_quoted_cells_and_line_breaks_within_them_are_survived() -> None:
    quoted = "date,end,what,groups,note\r\n" + "".join(
        f'"{line.replace(",", chr(34) + "," + chr(34))}","two\r\nlines, one ""note"""\r\n'
        for line in LAWFUL["events.csv"].splitlines()[1:]
    )
    events = farm({"events.csv": quoted}).events
    assert [(event.what, event.groups) for event in events] == [(event.what, event.groups) for event in farm().events]
    assert [event.where.row for event in events] == [2, 3]
    assert {event.note.replace("\r", "") for event in events} == {'two\nlines, one "note"'}


@pytest.mark.parametrize(
    "written", ["20/08/2027", "8/20/2027", "20.08.2027", "20.8.27", "20-Aug-27", "20 August 2027", "46619"]
)
def test_a_date_that_was_rewritten_is_named_with_the_setting_that_reads_it(written: str) -> None:
    (line,) = faults({"sales.csv": LAWFUL["sales.csv"].replace("2027-08-20", written)})
    assert line.startswith(f'sales.csv, row 2, date: found "{written}"; expected a date written year-month-day')
    assert line.endswith("or state another order as `dates` in farm.toml.")


@pytest.mark.parametrize(
    ("order", "pattern"),
    [("day-month-year", "{2}/{1}/{0}"), ("day-month-year", "{2}.{1}.{0}"), ("month-day-year", "{1}/{2}/{0}")],
)
def test_dates_that_were_rewritten_throughout_are_read_once_their_order_is_stated(order: str, pattern: str) -> None:
    iso = re.compile(r"(\d{4})-(\d\d)-(\d\d)")
    tables = {name: iso.sub(lambda one: pattern.format(*one.groups()), text) for name, text in TABLES.items()}
    assert alike(farm({**tables, "farm.toml": dated(order)}))


@pytest.mark.parametrize(
    "written",
    ['"2,500"', "2 500", "2\u00a0500", "2\u202f500", "2'500", "2’500", '"2.500,00"', '"2,500.00"', "2.500.000"],
)
def test_marks_between_thousands_are_named(written: str) -> None:
    (line,) = faults({"stock.csv": f"label,ml\npour,{written}\n"})
    shown = written.strip('"').replace("\u00a0", "?").replace("\u202f", "?")
    assert line == (
        f'stock.csv, row 2, ml: found "{shown}"; expected millilitres from 0 to 10000000; '
        "write it without marks between thousands, and with a decimal point, for example 2500."
    )


def test_a_part_of_a_sheep_is_not_taken_for_thousands() -> None:
    (line,) = faults({"sales.csv": LAWFUL["sales.csv"].replace("Top lamb,60", "Top lamb,4.5")})
    assert line.endswith("write it in digits, for example 60.")


@pytest.mark.parametrize("encoding", ["utf-16", "cp1252"])
def test_another_encoding_is_named(encoding: str) -> None:
    table = LAWFUL["mobs.csv"].replace("people\n", "note\n").replace("90,2", "90,Bärbel")
    (line,) = said(read_farm({**texts(), "mobs.csv": table.encode(encoding)}, TODAY))
    assert line.endswith("expected plain text in UTF-8; save it again with the encoding UTF-8.")
