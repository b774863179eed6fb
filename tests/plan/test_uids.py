"""Uids say what a task is; with an earlier plan the numbers carry over with least movement."""

from collections.abc import Sequence
from datetime import date
from itertools import combinations
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.plan.uids import Uids, carry_over
from scheduler.season import Season
from tests.plan.flock import BEFORE, dose, farm, may, of_kind, planned, settings, tasks_of

DAYS = st.lists(st.integers(1, 40), max_size=6, unique=True).map(lambda found: [may(day) for day in sorted(found)])


def least_by_trying(new: Sequence[date], old: Sequence[date]) -> int:
    """Least sum of days moved over all order-keeping matchings with as many pairs as the shorter list."""
    few, many = sorted((new, old), key=len)
    return min(
        sum(abs((day - other).days) for day, other in zip(few, chosen, strict=True))
        for chosen in combinations(many, len(few))
    )


@given(DAYS, DAYS)
def test_numbers_carry_over_with_least_movement_and_keep_their_order(new: list[date], old: list[date]) -> None:
    places = carry_over(new, old)
    pairs = [(day, old[place]) for day, place in zip(new, places, strict=True) if place is not None]
    taken = [place for place in places if place is not None]
    assert len(pairs) == min(len(new), len(old))
    assert taken == sorted(set(taken))
    assert sum(abs((day - other).days) for day, other in pairs) == least_by_trying(new, old)


def test_of_equal_movement_the_earliest_number_is_taken() -> None:
    assert carry_over([may(5)], [may(3), may(7)]) == [0]
    assert carry_over([may(3), may(7)], [may(5)]) == [0, None]


def test_a_uid_is_a_name_based_uuid_as_rfc_9562_has_it() -> None:
    uid = UUID(Uids(settings()).next(("dose", "Ewes/stay", "fly", "guard")))
    assert (uid.version, uid.variant) == (5, "specified in RFC 4122")


def test_numbers_taken_by_the_earlier_plan_are_passed_over() -> None:
    first = Uids(settings()).next(("prepare",))
    assert Uids(settings(), [first]).next(("prepare",)) == Uids(settings()).named("prepare", "2")


@pytest.mark.parametrize("changed", [{"id": "other"}, {"start": date(2028, 5, 1), "end": date(2028, 9, 30)}])
def test_another_farm_or_year_has_other_uids(changed: dict[str, object]) -> None:
    assert Uids(settings(**changed)).named("sale", "Mart") != Uids(settings()).named("sale", "Mart")


def test_a_dose_that_moves_keeps_its_uid_and_raises_its_sequence() -> None:
    season = Season(farm(), BEFORE)
    earlier = planned(season, [may(20), may(70)])
    before = of_kind(earlier.tasks, "dose")
    after = of_kind(tasks_of(season, [dose(season, may(22)), dose(season, may(70))], earlier=earlier), "dose")
    assert [task.uid for task in after] == [task.uid for task in before]
    assert [task.sequence for task in after] == [1, 0]


def test_the_same_farm_planned_again_changes_nothing() -> None:
    season = Season(farm(), BEFORE)
    earlier = planned(season, [may(20), may(70)])
    assert planned(season, [may(20), may(70)], earlier) == earlier


def test_a_dose_left_out_is_called_off_and_its_number_is_not_given_again() -> None:
    season = Season(farm(), BEFORE)
    first = planned(season, [may(20), may(70)])
    second = planned(season, [may(21)], first)
    third = planned(season, [may(21), may(70)], second)
    old, gone = of_kind(first.tasks, "dose")
    assert [(task.uid, task.status) for task in of_kind(second.tasks, "dose")] == [
        (old.uid, "planned"), (gone.uid, "cancelled")]  # fmt: skip
    again = [task for task in of_kind(third.tasks, "dose") if task.status == "planned"]
    assert again[0].uid == old.uid
    assert again[1].uid not in {task.uid for task in second.tasks}


def test_what_was_called_off_is_forgotten_after_the_season() -> None:
    season = Season(farm(), BEFORE)
    second = planned(season, [may(21)], planned(season, [may(20), may(70)]))
    after = Season(farm(), date(2027, 10, 1))
    assert "cancelled" not in {task.status for task in tasks_of(after, [], earlier=second)}


def test_two_preparations_of_one_day_keep_their_numbers() -> None:
    """Dosed today and tomorrow: both are prepared for today, and whichever uid is the lesser, each finds its own."""
    season = Season(farm(), may(20))
    first = planned(season, [may(20), may(21)])
    assert [task.day for task in of_kind(first.tasks, "prepare")] == [may(20), may(20)]
    assert planned(season, [may(20), may(21)], first) == first
