"""The clash of a gap against brute force: every plan that covers the days, and the least set of facts that hits all."""

from collections.abc import Iterator
from itertools import combinations

import pytest

from scheduler.farm import read_farm
from scheduler.plan.clash import MOST_FACTS, Clashes, Fact
from scheduler.plan.conflicts import plan_breaches
from scheduler.plan.settle import answer, question_of
from scheduler.season import Run, Season
from scheduler.words import Faults
from tests.oracle.farms import FAMILIES, random_farm

MOST_COURSES = 2
"""Courses of a plan that brute force looks at: enough for most short gaps; others are passed over."""


def gaps(seed: int, family: str) -> Iterator[tuple[Clashes, Run]]:
    """The gaps of the plan of a random farm."""
    drawn = random_farm(seed, 1, family)
    farm = read_farm({name: text.encode() for name, text in drawn.files.items()}, drawn.today)
    assert not isinstance(farm, Faults)
    season = Season(farm, drawn.today)
    settled = answer(question_of(season, (), {}), lambda: False)
    clashes = Clashes(season, settled.doses)
    for breach in plan_breaches(season, settled.doses, settled.said):
        if breach.rule == "cover-gap" and breach.run is not None:
            yield clashes, breach.run


def plans(clashes: Clashes, run: Run) -> list[frozenset[Fact]]:
    """The facts that each plan of few courses breaks, of those that cover all that can be covered."""
    ways = list(clashes._ways(run))
    demand = 0
    for way in ways:
        demand |= way.covers
    found = []
    for number in range(1, MOST_COURSES + 1):
        for chosen in combinations(ways, number):
            covered = 0
            for way in chosen:
                covered |= way.covers
            if covered == demand:
                found.append(frozenset(clashes._facts([dose for way in chosen for dose in way.doses])))
    return found


def least(broken: list[frozenset[Fact]]) -> tuple[Fact, ...]:
    """The first of the smallest sets, in sorted order, that hits all."""
    facts = sorted({fact for one in broken for fact in one}, key=lambda fact: (fact[0], fact[1].sort_key()))
    for size in range(1, len(facts) + 1):
        for chosen in combinations(facts, size):
            if all(one & set(chosen) for one in broken):
                return chosen
    return ()


@pytest.mark.parametrize("family", FAMILIES)
def test_a_clash_is_the_least_set_that_no_plan_keeps(family: str) -> None:
    for seed in range(12):
        for clashes, run in gaps(seed, family):
            broken = plans(clashes, run)
            told = tuple((fact.rule, fact.where) for fact in clashes.of(run))
            if any(not one for one in broken):
                assert told == (), (seed, run)
            elif told:
                assert all(one & set(told) for one in broken), (seed, run)
                for left_out in told:
                    rest = frozenset(told) - {left_out}
                    assert clashes._plan(list(clashes._ways(run)), demand_of(clashes, run), rest, ()), (seed, run)
                if broken and len(least(broken)) <= MOST_FACTS:
                    assert len(told) >= len(least(broken)), (seed, run)


def demand_of(clashes: Clashes, run: Run) -> int:
    """The days of the run that some course could cover."""
    demand = 0
    for way in clashes._ways(run):
        demand |= way.covers
    return demand


def test_one_day_open_for_one_reason_is_told_by_it() -> None:
    told = [{fact.rule for fact in clashes.of(run)} for seed in range(40) for clashes, run in gaps(seed, "sales")]
    assert any(rules & {"meat-withdrawal", "organic-withdrawal", "export-interval"} for rules in told)
