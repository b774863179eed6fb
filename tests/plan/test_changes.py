"""What a plan changes against the one before is told once, task by task, and no other change is told."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from scheduler.labels import Band
from scheduler.plan import EarlierPlan, changes
from scheduler.season import Season
from tests.plan.flock import BEFORE, farm, label, later, may, of_kind, plan_of, planned, prevent, row, tasks_of

Told = list[tuple[date, tuple[str, ...]]]


def told(earlier: EarlierPlan | None, plan: EarlierPlan, kinds: Iterable[str] = ("dose",)) -> Told:
    """Day and fate of every task told of the kinds."""
    found = changes(earlier, plan.tasks, plan.made_for).changes
    return [(change.task.day, change.what) for change in found if change.task.kind in kinds]


def test_a_first_plan_tells_no_change_and_no_day() -> None:
    plan = planned(Season(farm(), BEFORE), [may(20)])
    found = changes(None, plan.tasks, BEFORE)
    assert (found.made_for, found.since, found.changes) == (BEFORE, None, ())


def test_moved_stronger_and_gone_are_told_once() -> None:
    season = Season(farm(), BEFORE)
    earlier = planned(season, [may(20), may(70)])
    stronger = later(season, BEFORE, labels={"fly": label(uses=(prevent(bands=(Band(ml=Decimal(12)),)),))})
    plan = planned(stronger, [may(22)], earlier)
    assert told(earlier, plan) == [(may(22), ("moved", "dose-changed")), (may(70), ("gone",))]
    found = changes(earlier, plan.tasks, BEFORE).changes
    moved = next(change for change in found if change.task.kind == "dose")
    assert moved.before is not None
    assert (moved.before.day, moved.before.dose_ml) == (may(20), Decimal(10))
    assert changes(plan, planned(stronger, [may(22)], plan).tasks, BEFORE).changes == ()


def test_new_and_planned_again_are_told_apart() -> None:
    season = Season(farm(), BEFORE)
    earlier = planned(season, [may(20)])
    more = planned(season, [may(20), may(70)], earlier)
    assert told(earlier, more) == [(may(70), ("new",))]
    fewer = planned(season, [may(20)], more)
    assert told(fewer, planned(season, [may(20), may(70)], fewer)) == [(may(70), ("new",))], "a number is used once"
    (clear,) = [task for task in fewer.tasks if task.kind == "clear" and task.status == "cancelled"]
    assert clear.sequence == 1


def test_done_on_another_day_says_both_and_unrecorded_is_missed() -> None:
    season = Season(farm(), BEFORE)
    earlier = planned(season, [may(20)])
    recorded = later(season, may(24), record=(row(may(22)),))
    done = plan_of(recorded, tasks_of(recorded, [], earlier=earlier))
    assert told(earlier, done) == [(may(22), ("done", "moved"))]
    unrecorded = later(season, may(24))
    missed = plan_of(unrecorded, tasks_of(unrecorded, [], earlier=earlier))
    assert told(earlier, missed) == [(may(20), ("missed",))]


def test_what_went_by_was_not_called_off() -> None:
    """The day before the dose is past: nothing is left to prepare, and nobody called it off."""
    season = Season(farm(), BEFORE)
    earlier = planned(season, [may(20)])
    (prepare,) = of_kind(earlier.tasks, "prepare")
    after = later(season, may(24))
    plan = plan_of(after, tasks_of(after, [], earlier=earlier))
    assert told(earlier, plan, ["prepare"]) == [(prepare.day, ("past",))]
    off = planned(season, [], earlier)
    assert told(earlier, off, ["prepare"]) == [(prepare.day, ("gone",))]
