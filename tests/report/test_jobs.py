"""The plan as work: months, what comes next, and what stands open."""

from collections.abc import Iterator
from datetime import date

from msgspec.structs import replace

from scheduler.report import (
    JobMonth,
    Task,
    cancelled_tasks,
    clear_words,
    coming,
    job_months,
    missed_tasks,
    open_points,
    protection_words,
)
from tests.outputs.pieces import END
from tests.outputs.plans import large_report, rich_report


def test_every_task_but_the_cancelled_stands_once_in_its_month() -> None:
    for told in (rich_report(), large_report()):
        listed = [
            task.uid
            for month in job_months(told)
            for tasks in (*parts(month), *(looks.tasks for looks in month.looks))
            for task in tasks
            if (task.day.year, task.day.month) == (month.first.year, month.first.month)
        ]
        assert sorted(listed) == sorted(task.uid for task in told.plan.tasks if task.status != "cancelled")


def parts(month: JobMonth) -> Iterator[tuple[Task, ...]]:
    """The tasks of a month, part by part, but for the looks."""
    for day in month.days:
        yield from (block.tasks for block in day.doses)
        yield day.others
    yield from (block.tasks for block in month.clears)


def test_the_doses_of_a_label_stand_together() -> None:
    may = job_months(large_report())[0]
    (day,) = may.days
    (block,) = day.doses
    assert len(block.tasks) == 20


def test_what_comes_next_begins_on_the_day_of_the_plan() -> None:
    lines = coming(rich_report())
    assert [line.day for line in lines] == sorted(line.day for line in lines)
    assert lines[0].day == rich_report().plan.made_for
    assert all(line.task.status == "planned" for line in lines)


def test_looks_of_one_day_share_a_line() -> None:
    (look, *_) = [line for line in coming(large_report()) if line.task.kind == "recheck"]
    assert look.day == date(2027, 5, 22)
    assert look.text.startswith("Look over Group number 0; Group number 1;")


def test_after_the_season_nothing_comes() -> None:
    told = rich_report()
    assert coming(replace(told, plan=replace(told.plan, made_for=END))) == ()


def test_missed_and_cancelled_tasks_are_found() -> None:
    told = rich_report()
    assert [task.day for task in missed_tasks(told)] == [date(2027, 5, 10)]
    assert [task.day for task in cancelled_tasks(told)] == [date(2027, 9, 2)]


def test_stops_and_choices_need_a_decision_warnings_and_notes_do_not() -> None:
    points = open_points(rich_report().plan.conflicts)
    assert [conflict.rule for conflict in points.decide] == ["meat-withdrawal", "cover-gap"]
    assert [conflict.rule for conflict in points.watch] == ["dry-weather", "dry-weather"]
    assert [conflict.rule for conflict in points.know] == ["record-complete"]


def test_clear_dates_and_protection_in_words() -> None:
    told = rich_report()
    first = next(task for task in told.plan.tasks if task.day == date(2027, 5, 27))
    assert clear_words(first) == ("meat from 5 Jun 2027", "shearing from 27 Jul 2027")
    assert protection_words(first) == "protects 27 May 2027 to 7 Jul 2027, fading until 21 Jul 2027"
    assert protection_words(replace(first, protects=None)) == ""
