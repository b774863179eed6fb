"""Brute force for tiny farms: every lawful set of courses, the best by all stages, and the one answer after ties."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import product

from tests.oracle.courses import own_courses
from tests.oracle.duties import Duties, duties_of
from tests.oracle.flock import Cohort
from tests.oracle.judge import Score, exposed_sheep_days, judge, score, work
from tests.oracle.rules import clash, near
from tests.oracle.world import Course, Dose, World

Listed = list[tuple[str, str, str, str]]
MOST_PLANS = 300_000  # of the whole farm; more is no tiny farm


@dataclass(frozen=True)
class Best:
    """The optimum of stages 1 to 4 and, of all irredundant plans that reach it, the one that the ties choose."""

    score: Score
    doses: tuple[Dose, ...]
    moved: int
    optimal: int  # how many irredundant plans reach the optimum
    duties: Duties


def least_list(doses: tuple[Dose, ...]) -> Listed:
    """The sorted (date, cohort, label, use) that the last tie compares, by code point."""
    return sorted((dose.day.isoformat(), dose.cohort, dose.label, dose.use) for dose in doses)


def _exposed(world: World, cohort: Cohort, courses: tuple[Course, ...]) -> int:
    doses = [dose for course in courses for dose in course.doses]
    mine = world.record[cohort.id] + doses
    states = [world.day_state(cohort, target, day, mine)[1] for target in world.targets for day in world.window()]
    return cohort.head * sum(state in ("exposed", "fading") for state in states)


def _sets(world: World, own: list[Course], taken: tuple[Course, ...], start: int) -> Iterator[tuple[Course, ...]]:
    """Every set of own courses beside those taken that keeps the pairwise rules."""
    yield taken
    for number in range(start, len(own)):
        course = own[number]
        if not any(near(world, course, one) or clash(world, course, one) for one in taken):
            yield from _sets(world, own, (*taken, course), number + 1)


def cohort_plans(world: World, cohort: Cohort, choices: list[list[Course]]) -> list[tuple[int, tuple[Course, ...]]]:
    """(exposed, courses) of every lawful plan of a cohort whose own courses each spare some exposed day.

    One that spares none could be left out at no more money, gathers or handlings: it is in no irredundant optimum.
    """
    own = own_courses(world, cohort)
    out = []
    for picked in product(*choices):
        for plan in _sets(world, own, picked, 0):
            if judge(world, [dose for course in plan for dose in course.doses]):
                continue
            exposed = _exposed(world, cohort, plan)
            rest = [tuple(one for one in plan if one != course) for course in plan if course.origin == "own"]
            if all(_exposed(world, cohort, fewer) > exposed for fewer in rest):
                out.append((exposed, plan))
    return out


def _moved_nothing(doses: tuple[Dose, ...]) -> int:
    return 0


def brute(world: World, moved: Callable[[tuple[Dose, ...]], int] = _moved_nothing) -> Best:
    """Try everything. `moved` gives the days moved of a plan against an earlier one (none: 0)."""
    duties = duties_of(world)
    names = list(world.cohorts)
    parts = []
    for name in names:
        plans = cohort_plans(world, world.cohorts[name], [one for one in duties.choices if one[0].cohort == name])
        if not world.most_head:
            least = min(exposed for exposed, _ in plans)
            plans = [one for one in plans if one[0] == least]
        parts.append(plans)
    if math.prod(len(one) for one in parts) > MOST_PLANS:
        raise ValueError("too large for brute force")
    found: dict[tuple[int, int, int, int], list[tuple[Dose, ...]]] = {}
    for together in product(*parts):
        exposed = sum(one for one, _ in together)
        if found and exposed > min(found)[0]:
            continue
        doses = tuple(dose for _, plan in together for course in plan for dose in course.doses)
        if world.most_head and judge(world, list(doses)):
            continue
        found.setdefault(_stages(world, exposed, doses), []).append(doses)
    best = found[min(found)]
    chosen = min(best, key=lambda doses: (moved(doses), least_list(doses)))
    return Best(
        score(world, list(chosen)), tuple(sorted(chosen, key=lambda d: d.key)), moved(chosen), len(best), duties
    )


def _stages(world: World, exposed: int, doses: tuple[Dose, ...]) -> tuple[int, int, int, int]:
    """As judge.score, the exposure already being known."""
    return (exposed, *work(world, list(doses))[:3])


def is_irredundant(world: World, doses: list[Dose]) -> bool:
    """Can no own course be left out without more exposure?"""
    least = exposed_sheep_days(world, doses)
    firsts = [dose for dose in doses if dose.origin == "own" and dose.repeat_of is None]
    for first in firsts:
        rest = [
            d
            for d in doses
            if d != first
            and (d.cohort, d.label, d.use, d.repeat_of) != (first.cohort, first.label, first.use, first.day)
        ]
        if exposed_sheep_days(world, rest) == least:
            return False
    return True
