"""Which rows come of what was moved and marked: one wish a dose, whatever stands in the tables already."""

from datetime import date
from decimal import Decimal

from scheduler.exchange import Row, record_rows, wish_rows
from scheduler.exchange.answers import MarkedDone, Moved
from scheduler.farm import RecordRow, Wish
from scheduler.plan import Task
from scheduler.words import Where

WITHIN = 7


def june(day: int) -> date:
    """A day of June."""
    return date(2027, 6, day)


def dose(uid: str, day: date, cohort: str = "Ewes/stay", repeat_of: str | None = None) -> Task:
    """A dose of a plan."""
    return Task(uid=uid, kind="dose", day=day, group="Ewes", cohort=cohort, head=90, label="pour", use="guard",
                repeat_of=repeat_of, dose_ml=Decimal("12.50"))  # fmt: skip


def wish(row: int, day: date, cohort: str | None = None, repeat_of: date | None = None, label: str = "pour") -> Wish:
    """A row of wishes.csv."""
    return Wish(day=day, group="Ewes", label=label, use="guard", cohort=cohort, repeat_of=repeat_of,
                where=Where("wishes.csv", row=row))  # fmt: skip


STAY, MART = dose("stay", june(4)), dose("mart", june(4), "Ewes/Mart")
TASKS = {task.uid: task for task in (STAY, MART)}


def told(rows: list[Row]) -> list[tuple[int | None, object]]:
    """Number and date of each row."""
    return [(row.number, row.cells.get("date")) for row in rows]


def test_a_wish_for_the_planned_day_of_this_cohort_is_changed() -> None:
    found = wish_rows([Moved(STAY, june(8))], TASKS, [wish(5, june(4), "Ewes/stay")], {})
    assert told(found.rows) == [(5, june(8))]


def test_a_wish_for_all_of_the_group_is_changed_where_all_moved_to_one_day() -> None:
    moved = [Moved(STAY, june(8)), Moved(MART, june(8))]
    found = wish_rows(moved, TASKS, [wish(5, june(4))], {})
    assert (told(found.rows), found.said) == ([(5, june(8))], [])


def test_a_wish_for_all_of_the_group_is_left_where_only_some_moved() -> None:
    for moved in ([Moved(STAY, june(8))], [Moved(STAY, june(8)), Moved(MART, june(9))]):
        found = wish_rows(moved, TASKS, [wish(5, june(4))], {})
        assert found.rows == []
        assert "part it by cohorts" in found.said[0]


def test_wishes_of_other_labels_days_and_cohorts_are_none_of_it() -> None:
    others = [wish(2, june(4), "Ewes/Mart"), wish(3, june(20)), wish(4, june(4), label="dip")]
    assert told(wish_rows([Moved(STAY, june(8))], TASKS, others, {}).rows) == [(None, june(8))]


def test_the_wish_of_the_pull_before_is_changed_though_the_plan_refused_it() -> None:
    found = wish_rows([Moved(STAY, june(9))], TASKS, [wish(2, june(8), "Ewes/stay")], {"stay": june(8)})
    assert (told(found.rows), found.wished) == ([(2, june(9))], {"stay": june(9)})


def test_a_repeat_moved_with_its_first_dose_names_the_new_day() -> None:
    repeat = dose("again", june(25), repeat_of="stay")
    moved = [Moved(repeat, june(27)), Moved(STAY, june(6))]
    found = wish_rows(moved, {**TASKS, "again": repeat}, [], {})
    assert told(found.rows) == [(None, june(6)), (None, june(27))]
    assert found.rows[1].cells["repeat_of"] == june(6)


def record(day: date, cohort: str | None = None, repeat_of: date | None = None) -> RecordRow:
    """A row of record.csv."""
    return RecordRow(day=day, group="Ewes", label="pour", use="guard", head=90, cohort=cohort, repeat_of=repeat_of,
                     where=Where("record.csv", row=2))  # fmt: skip


def test_a_dose_marked_done_is_recorded_with_head_and_ml() -> None:
    (row,) = record_rows([MarkedDone(STAY, june(5))], TASKS, [], WITHIN)
    assert row.cells == {"date": june(5), "group": "Ewes", "label": "pour", "use": "guard", "head": "90",
                         "cohort": "Ewes/stay", "ml_per_head": Decimal("12.50")}  # fmt: skip


def test_a_repeat_marked_done_names_its_first_dose() -> None:
    repeat = dose("again", june(25), repeat_of="stay")
    (row,) = record_rows([MarkedDone(repeat, june(25))], TASKS, [record(june(24))], WITHIN)
    assert row.cells["repeat_of"] == june(4)


def test_a_dose_that_the_record_holds_within_a_week_is_not_recorded_again() -> None:
    done = [MarkedDone(STAY, june(4))]
    assert record_rows(done, TASKS, [record(june(11))], WITHIN) == []
    assert record_rows(done, TASKS, [record(june(11), "Ewes/stay")], WITHIN) == []
    assert len(record_rows(done, TASKS, [record(june(12))], WITHIN)) == 1
    assert len(record_rows(done, TASKS, [record(june(11), "Ewes/Mart")], WITHIN)) == 1
