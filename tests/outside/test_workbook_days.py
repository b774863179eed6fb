"""How workbooks count days, in both date systems.

Sources, both from memory: ECMA-376 part 1, 18.17.4.1; Microsoft support, "Date systems in Excel", whose worked example
gives one day in both systems. The workbooks are written by openpyxl.
"""

from datetime import date
from typing import Any

import openpyxl
import pytest
from openpyxl.utils.datetime import CALENDAR_MAC_1904, CALENDAR_WINDOWS_1900

from scheduler.tables import Cell, Columns, Gathered, day, open_workbook
from scheduler.tables.workbook import Workbook
from scheduler.words import Fault
from tests.outside.tables import rows
from tests.workbook.books import saved

TABLE = rows("workbook_days.csv")
EPOCHS = {"1900": CALENDAR_WINDOWS_1900, "1904": CALENDAR_MAC_1904}


def name_of(case: dict[str, str]) -> str:
    """A case as reports show it; day 0, formatted as a date, is a time of day to most programs."""
    return f"{case['system']}-{case['number']}"


def read_back(system: str, number: int, number_format: str) -> object:
    """The cell as it stands in a workbook of this date system, once it is read."""
    book: Any = openpyxl.Workbook()
    book.epoch = EPOCHS[system]
    sheet = book.active
    sheet.title = "days"
    sheet["A1"] = "date"
    sheet["A2"] = number
    sheet["A2"].number_format = number_format
    opened = open_workbook("farm.xlsx", saved(book))
    assert isinstance(opened, Workbook)
    (row,) = opened.rows(Columns(file="days.csv", required=("date",)), "iso", Gathered())
    return row.need("date", lambda cell: cell)


@pytest.mark.parametrize("case", [case for case in TABLE if case["number"] != "0"], ids=name_of)
def test_a_number_formatted_as_a_date_is_that_day(case: dict[str, str]) -> None:
    cell = read_back(case["system"], int(case["number"]), "yyyy-mm-dd")
    assert isinstance(cell, Cell)
    assert day(cell) == date.fromisoformat(case["day"])


@pytest.mark.parametrize("case", TABLE, ids=name_of)
def test_a_plain_number_is_refused_with_the_day_that_it_would_be(case: dict[str, str]) -> None:
    cell = read_back(case["system"], int(case["number"]), "General")
    assert isinstance(cell, Cell)
    fault = day(cell)
    assert isinstance(fault, Fault)
    assert fault.mend == f"if {case['day']} is meant, format the cell as a date"
