"""Withdrawal is counted in full days after the day of the last dose.

Sources: "What is a withdrawal period?", Finnish Medicines Agency Fimea (a 6-day period ends so that the 7th day is the
first to sell, stored page; the other rows are arithmetic on it, see `seen`); Regulation (EEC, Euratom) 1182/71
Article 3 (the day of the event is not counted, stored page). The shorter "elapsed" reading is from memory and is here
to show that ours is the later one.
"""

from datetime import date, timedelta

import pytest

from scheduler.season import clear_day
from tests.outside.tables import Row, rows

TABLE = rows("withdrawal_examples.csv")
FULL_DAYS = [row for row in TABLE if row["reading"] == "full_days_after"]
ELAPSED = [row for row in TABLE if row["reading"] == "elapsed_days"]


def ours(row: Row) -> date:
    """The clear day of a row of the table."""
    return clear_day(date.fromisoformat(row["last_dose"]), int(row["wp_days"]))


@pytest.mark.parametrize("row", FULL_DAYS, ids=lambda row: f"{row['wp_days']} days from {row['last_dose']}")
def test_clear_day_is_the_first_day_after_the_full_days(row: Row) -> None:
    assert ours(row).isoformat() == row["first_clear"]


@pytest.mark.parametrize("row", ELAPSED, ids=lambda row: f"{row['wp_days']} days from {row['last_dose']}")
def test_ours_is_one_day_later_than_the_shorter_reading(row: Row) -> None:
    assert ours(row) - date.fromisoformat(row["first_clear"]) == timedelta(days=1)


def test_the_table_holds_leap_years_year_ends_and_the_published_case() -> None:
    assert len(FULL_DAYS) == 15
    assert [row["wp_days"] for row in FULL_DAYS if row["seen"] == "stored page"] == ["6"]
