"""Stopped early, planning still gives a lawful plan, and says truly how much better the best could be."""

from collections.abc import Callable
from pathlib import Path

import pytest

from scheduler.plan import Plan
from tests.oracle.compare import planned
from tests.oracle.duties import duties_of
from tests.oracle.farms import FAMILIES, random_farm, write_farm
from tests.oracle.judge import judge, score
from tests.oracle.world import read_world
from tests.properties.planning import SMALL_SEEDS, as_read, plan_of, score_of

CALLS = (0, 1, 5, 34, 233)


def after(calls: int) -> Callable[[], bool]:
    """A clock that has run out once it was asked so many times."""
    asked = [0]

    def is_out() -> bool:
        asked[0] += 1
        return asked[0] > calls

    return is_out


def says_truly(plan: Plan, best: tuple[int, int]) -> bool:
    """Whether the best score lies between the plan's own and what its gap leaves open."""
    exposed, money = score_of(plan)
    if plan.gap is None:
        return (exposed, money) == best
    if not exposed - plan.gap.exposed_sheep_days <= best[0] <= exposed:
        return False
    return plan.gap.money_minor is None or (exposed == best[0] and money - plan.gap.money_minor <= best[1] <= money)


@pytest.mark.parametrize("family", FAMILIES)
def test_a_stop_leaves_a_true_gap(family: str) -> None:
    drawn = random_farm(SMALL_SEEDS[family], 2, family)
    best = score_of(plan_of(drawn.files, drawn.today))
    for calls in CALLS:
        stopped = plan_of(drawn.files, drawn.today, None, after(calls))
        assert says_truly(stopped, best), (calls, stopped.score, stopped.gap, best)


@pytest.mark.parametrize("family", FAMILIES)
def test_a_stop_leaves_a_lawful_plan_with_its_own_score(family: str, tmp_path: Path) -> None:
    drawn = random_farm(SMALL_SEEDS[family], 2, family)
    write_farm(drawn, tmp_path)
    world = read_world(tmp_path, drawn.today)
    duties = duties_of(world)
    for calls in CALLS[:3]:
        stopped = plan_of(drawn.files, drawn.today, None, after(calls))
        doses = planned(as_read(stopped), duties)
        assert judge(world, doses) == []
        own = score(world, doses)
        assert (own.exposed, own.money) == score_of(stopped)


def test_some_plans_are_cut_short_in_each_stage() -> None:
    gaps = []
    for family in ("plain", "mobs"):
        drawn = random_farm(SMALL_SEEDS[family], 2, family)
        gaps.append(plan_of(drawn.files, drawn.today, None, after(0)).gap)
    assert [gap is not None and gap.money_minor is None for gap in gaps] == [False, True]
    assert None not in gaps
