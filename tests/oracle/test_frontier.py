"""The frontier and the budget of tiny farms against every lawful plan, as the oracle lists and prices them."""

from __future__ import annotations

import math
import tempfile
from itertools import product
from pathlib import Path

import pytest

from scheduler.farm import Farm, read_farm
from scheduler.plan import Plan, TooLittle, frontier_plans, plan_within
from tests.oracle.brute import cohort_plans
from tests.oracle.duties import duties_of
from tests.oracle.farms import FAMILIES, RandomFarm, random_farm, write_farm
from tests.oracle.judge import judge, work
from tests.oracle.world import World, read_world

MOST_PLANS = 30_000
Stages = tuple[int, int, int, int]


def never() -> bool:
    """A clock that does not run out."""
    return False


def tiny(seed: int, family: str) -> tuple[RandomFarm, Farm, World]:
    """A random farm of one group, as the product and as the oracle read it."""
    drawn = random_farm(seed, 1, family)
    with tempfile.TemporaryDirectory() as place:
        write_farm(drawn, Path(place))
        world = read_world(Path(place), drawn.today)
    farm = read_farm({name: text.encode() for name, text in drawn.files.items()}, drawn.today)
    assert isinstance(farm, Farm)
    return drawn, farm, world


def all_stages(world: World) -> set[Stages] | None:
    """Exposure, money, paid gathers and handlings of every lawful plan without idle courses; None if too many."""
    choices = duties_of(world).choices
    parts = [
        cohort_plans(world, cohort, [one for one in choices if one[0].cohort == name])
        for name, cohort in world.cohorts.items()
    ]
    if math.prod(len(part) for part in parts) > MOST_PLANS:
        return None
    found: set[Stages] = set()
    for together in product(*parts):
        doses = [dose for _, plan in together for course in plan for dose in course.doses]
        if not world.most_head or not judge(world, doses):
            found.add((sum(exposed for exposed, _ in together), *work(world, doses)[:3]))
    return found


def pairs_of(stages: set[Stages]) -> list[tuple[int, int]]:
    """The undominated pairs, least exposed first."""
    best: list[tuple[int, int]] = []
    for exposed, money in sorted({one[:2] for one in stages}):
        if not best or money < best[-1][1]:
            best.append((exposed, money))
    return best


def told(plan: Plan) -> tuple[int, int]:
    """Exposure and money of a plan."""
    return plan.score.exposed_sheep_days, plan.score.money_minor


@pytest.mark.parametrize(("family", "seed"), list(product(FAMILIES, range(1, 4))))
def test_the_frontier_and_every_budget_are_those_of_all_plans(family: str, seed: int) -> None:
    drawn, farm, world = tiny(seed, family)
    stages = all_stages(world)
    if stages is None:
        pytest.skip("too large to try every plan")
    pairs = pairs_of(stages)
    found = frontier_plans(farm, drawn.today, None, never)
    assert {told(plan) for plan in found.plans} <= set(pairs)
    assert found.complete == (len(pairs) <= 25)
    assert len(found.plans) == min(25, len(pairs))
    for _, money in (pairs[0], pairs[len(pairs) // 2], pairs[-1]):
        for budget in (money - 1, money, money + 1):
            plan = plan_within(farm, drawn.today, None, budget, never)
            affordable = [one for one in stages if one[1] <= budget]
            if isinstance(plan, TooLittle):
                assert not affordable
                assert plan.least == pairs[-1][1]
            else:
                best = min(affordable)
                assert (*told(plan), plan.score.handlings) == (best[0], best[1], best[3])
