"""The wall calendar: every day of the season once, every task on its day, in few words."""

from datetime import timedelta

import pytest

from scheduler.report import month_pages
from tests.outputs.pieces import day
from tests.outputs.plans import REPORTS, large_report, rich_report


@pytest.mark.parametrize("name", REPORTS)
def test_every_day_of_the_season_stands_once_in_its_month(name: str) -> None:
    told = REPORTS[name]()
    pages = month_pages(told)
    days = [one.day for page in pages for one in page.days]
    assert days == [told.plan.start + timedelta(days=n) for n in range(275)]
    assert all((one.day.year, one.day.month) == (p.first.year, p.first.month) for p in pages for one in p.days)


def test_every_day_with_a_task_has_an_entry() -> None:
    for told in (rich_report(), large_report()):
        busy = {one.day for page in month_pages(told) for one in page.days if one.entries}
        assert {task.day for task in told.plan.tasks if task.status != "cancelled"} <= busy


def test_a_day_says_what_is_done_for_whom_doses_first() -> None:
    entries = {one.day: one.entries for page in month_pages(rich_report()) for one in page.days}
    assert entries[day(5, 3)] == ("Dose (done) Ewes",)
    assert entries[day(6, 17)] == ("Repeat dose Top lambs", "Look over Ewes and Top lambs", "Shearing: Ewes")
    assert entries[day(5, 20)] == ("Order Demo hill pour on (invented)",)
    assert entries[day(4, 1)] == ("Lambing (1 to 25 Apr): Ewes",)
    assert entries[day(8, 20)] == ("Sell Top lambs",)
    assert entries[day(5, 30)] == ("Watch for blowfly strike",)
    assert not any("Dose" in entry for entry in entries[day(9, 2)])


def test_groups_that_are_dosed_together_share_an_entry() -> None:
    doses = [text for page in month_pages(large_report()) for one in page.days for text in one.entries
             if text.startswith("Dose")]  # fmt: skip
    assert len(doses) == 4
    assert set(doses) == {"Dose 10 groups"}


def test_closed_days_are_marked() -> None:
    closed = [one.day for page in month_pages(rich_report()) for one in page.days if one.is_closed]
    assert len(closed) == 39
    assert {one.weekday() for one in closed} == {6}


def test_a_month_lies_in_four_to_six_weeks() -> None:
    """March 2027 begins on a Monday and has 31 days; May on a Saturday, so that its 31st is in a sixth week."""
    weeks = {page.first.month: page.weeks for page in month_pages(rich_report())}
    assert (weeks[3], weeks[5], weeks[6]) == (5, 6, 5)
