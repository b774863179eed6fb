"""The earlier plan held against the record: done, given up, missed, open."""

from datetime import date

import pytest
from msgspec.structs import replace

from scheduler.farm import Finding
from scheduler.plan.reconcile import reconcile
from scheduler.season import Season
from scheduler.words import Where
from tests.plan.flock import (
    BEFORE,
    dose,
    ewes,
    farm,
    later,
    may,
    of_kind,
    plan_of,
    planned,
    row,
    sale,
    settings,
    tasks_of,
)

FRESH = Season(farm(), BEFORE)


@pytest.mark.parametrize(("off", "done"), [(-8, False), (-7, True), (0, True), (7, True), (8, False)])
def test_a_row_within_seven_days_makes_the_planned_dose_done(off: int, done: bool) -> None:
    earlier = planned(FRESH, [may(30)])
    season = later(FRESH, may(50), record=(row(may(30 + off)),))
    tasks = of_kind(tasks_of(season, [], earlier=earlier), "dose")
    uid = of_kind(earlier.tasks, "dose")[0].uid
    told = next(task for task in tasks if task.uid == uid)
    assert (told.status, told.day) == (("done", may(30 + off)) if done else ("missed", may(30)))
    assert [task.status for task in tasks if task.uid != uid] == ([] if done else ["done"])


def test_of_two_equally_near_the_earlier_is_done() -> None:
    earlier = planned(FRESH, [may(30), may(36)])
    found = reconcile(later(FRESH, may(50), record=(row(may(33)),)), earlier)
    first, second = of_kind(earlier.tasks, "dose")
    assert list(found.done) == [first.uid]
    assert [task.uid for task in found.lapsed] == [second.uid]


def test_each_row_makes_one_task_done() -> None:
    earlier = planned(FRESH, [may(30), may(36)])
    found = reconcile(later(FRESH, may(50), record=(row(may(31)), row(may(35), 3))), earlier)
    assert [found.done[task.uid].day for task in of_kind(earlier.tasks, "dose")] == [may(31), may(35)]


def test_a_repeat_is_not_done_by_a_first_dose() -> None:
    ours = [dose(FRESH, may(20)), dose(FRESH, may(41), first_day=may(20))]
    earlier = plan_of(FRESH, tasks_of(FRESH, ours))
    first, repeat = of_kind(earlier.tasks, "dose")
    assert repeat.repeat_of == first.uid
    found = reconcile(later(FRESH, may(60), record=(row(may(20)), row(may(41), 3))), earlier)
    assert [task.uid for task in found.lapsed] == [repeat.uid]
    assert found.missed[0].first_day == may(20)


def test_the_repeat_of_a_dose_done_later_names_the_day_it_was_done() -> None:
    ours = [dose(FRESH, may(20)), dose(FRESH, may(41), first_day=may(20))]
    earlier = plan_of(FRESH, tasks_of(FRESH, ours))
    found = reconcile(later(FRESH, may(60), record=(row(may(22)),)), earlier)
    assert [missed.first_day for missed in found.missed] == [may(22)]


def test_a_row_of_fewer_head_makes_no_planned_dose_done_but_is_a_task() -> None:
    earlier = planned(FRESH, [may(30)])
    season = later(FRESH, may(50), record=(row(may(30), head=49),))
    planned_task, part = of_kind(tasks_of(season, [], earlier=earlier), "dose")
    if planned_task.status == "done":
        planned_task, part = part, planned_task
    assert (planned_task.status, part.status, part.head, part.uid != planned_task.uid) == ("missed", "done", 49, True)
    assert part.protects is not None
    assert part.protects.first is None


def test_a_row_with_given_no_answers_the_dose_and_it_binds_no_more() -> None:
    earlier = planned(FRESH, [may(30)])
    season = later(FRESH, may(50), record=(row(may(30), given=False),))
    found = reconcile(season, earlier)
    uid = of_kind(earlier.tasks, "dose")[0].uid
    assert (found.declined, found.missed) == (frozenset({uid}), ())
    again = planned(season, [], earlier)
    assert [(task.uid, task.status, task.sequence) for task in of_kind(again.tasks, "dose")] == [(uid, "missed", 1)]
    assert planned(season, [], again).tasks == again.tasks


def test_the_day_of_the_plan_itself_is_not_past() -> None:
    earlier = planned(FRESH, [may(30)])
    assert reconcile(later(FRESH, may(30)), earlier).missed == ()
    assert [one.day for one in reconcile(later(FRESH, may(31)), earlier).missed] == [may(30)]


def test_a_missed_dose_is_carried_into_the_next_season_until_a_row_answers_it() -> None:
    earlier = planned(FRESH, [may(30)])
    uid = of_kind(earlier.tasks, "dose")[0].uid
    year = settings(start=date(2028, 5, 1), end=date(2028, 9, 30))
    new_year = later(FRESH, date(2028, 4, 1), settings=year)
    carried = planned(new_year, [], planned(later(FRESH, may(50)), [], earlier))
    assert [(task.uid, task.status) for task in of_kind(carried.tasks, "dose")] == [(uid, "missed")]
    answered = planned(later(new_year, date(2028, 4, 2), record=(row(may(31)),)), [], carried)
    assert [(task.uid, task.status) for task in of_kind(answered.tasks, "dose")] == [(uid, "done")]


def test_done_doses_keep_their_uids_and_do_nothing_twice() -> None:
    season = later(FRESH, may(34), record=(row(may(33)),))
    earlier = planned(season, [may(38)])
    unplanned, coming = of_kind(earlier.tasks, "dose")
    assert (unplanned.status, coming.status) == ("done", "planned")
    found = reconcile(season, earlier)
    assert found.done.keys() == {unplanned.uid}
    assert [task.uid for task in found.open["Ewes/stay", "fly", "guard"]] == [coming.uid]


def test_a_planned_dose_whose_row_is_taken_back_is_asked_for_again() -> None:
    earlier = planned(FRESH, [may(30)])
    done = planned(later(FRESH, may(50), record=(row(may(30)),)), [], earlier)
    back = planned(later(FRESH, may(51)), [], done)
    assert [task.status for task in of_kind(back.tasks, "dose")] == ["missed"]


def test_a_dose_only_recorded_whose_row_is_taken_back_is_called_off() -> None:
    done = planned(later(FRESH, may(50), record=(row(may(30)),)), [])
    back = planned(later(FRESH, may(51)), [], done)
    assert [task.status for task in of_kind(back.tasks, "dose")] == ["cancelled"]


def test_found_sheep_are_bound_by_what_their_source_missed_before() -> None:
    earlier = planned(FRESH, [may(30), may(45)])
    finding = Finding(day=may(40), group="Ewes", what="blowfly-strike", head=3, where=Where("findings.csv", 2))
    found = reconcile(later(FRESH, may(50), findings=(finding,)), earlier)
    assert [(one.cohort.id, one.day) for one in found.missed] == [
        ("Ewes/found-2", may(30)), ("Ewes/stay", may(30)), ("Ewes/stay", may(45))]  # fmt: skip


def test_a_dose_of_a_cohort_that_is_no_more_is_answered_by_a_row_for_the_whole_group() -> None:
    season = later(FRESH, BEFORE, sales=(sale(may(100)),))
    earlier = planned(season, [may(30)])
    uid = of_kind(earlier.tasks, "dose")[0].uid
    renamed = later(season, may(50), sales=(sale(may(100), name="Market"),))
    assert reconcile(renamed, earlier).missed == ()
    assert [task.uid for task in reconcile(renamed, earlier).lapsed] == [uid]
    recorded = planned(later(renamed, may(50), record=(row(may(31)),)), [], earlier)
    assert [(task.uid, task.cohort, task.status) for task in of_kind(recorded.tasks, "dose")] == [
        (uid, "Ewes/Market", "done")]  # fmt: skip


def test_a_dose_of_a_group_or_label_that_is_no_more_is_still_carried() -> None:
    earlier = planned(FRESH, [may(30)])
    season = later(FRESH, may(50), groups=(ewes(name="Others"),), labels={})
    assert [task.status for task in of_kind(tasks_of(season, [], earlier=earlier), "dose")] == ["missed"]
    assert reconcile(season, earlier).missed == ()


def test_a_past_day_planned_again_opens_what_was_missed() -> None:
    missed = planned(later(FRESH, may(50)), [], planned(FRESH, [may(30)]))
    found = reconcile(FRESH, missed)
    assert [task.day for task in found.open["Ewes/stay", "fly", "guard"]] == [may(30)]
    assert found.lapsed == ()


def test_the_repeat_of_a_recorded_dose_of_last_season_names_a_task() -> None:
    record = (row(date(2027, 4, 20)),)
    season = Season(replace(farm(), record=record), may(1))
    tasks = of_kind(tasks_of(season, [dose(season, may(11), first_day=date(2027, 4, 20))]), "dose")
    assert [(task.day, task.status) for task in tasks] == [(date(2027, 4, 20), "done"), (may(11), "planned")]
    assert tasks[1].repeat_of == tasks[0].uid


@pytest.mark.parametrize(("first", "answered"), [(may(20), True), (may(1), False)])
def test_a_row_of_a_repeat_answers_the_repeat_of_its_own_course_alone(first: date, answered: bool) -> None:
    ours = [dose(FRESH, may(20)), dose(FRESH, may(41), first_day=may(20))]
    earlier = plan_of(FRESH, tasks_of(FRESH, ours))
    repeat = of_kind(earlier.tasks, "dose")[1]
    rows = (row(may(20)), row(may(38), 3, repeat_of=first, given=False))
    found = reconcile(later(FRESH, may(39), record=rows), earlier)
    assert found.declined == ({repeat.uid} if answered else set())
