"""Planning again with what is known gives the answer of planning anew."""

from random import Random
from typing import Any

import pytest
from msgspec.structs import replace

from scheduler.planner import Memory, Problem, Solved, roomy, solve
from scheduler.planner.narrower import narrowed
from scheduler.planner.settling import Begun, begun_near
from tests.planner.tiny import Mix, tiny

MIX = Mix(courses=8)
LIMITED = Mix(courses=8, capacity=True)


def never() -> bool:
    """A clock that does not run out."""
    return False


def changed(problem: Problem, seed: int) -> Problem:
    """The problem with one cohort changed: a need of other weight, or ranks and earlier days of their own."""
    draw = Random(seed)
    cohorts = list(problem.cohorts)
    number = draw.randrange(len(cohorts))
    cohort = cohorts[number]
    needs = tuple(replace(need, weight=need.weight + draw.randint(0, 2)) for need in cohort.needs)
    earlier = tuple(tuple(sorted(draw.sample(range(8), 2))) for _ in cohort.earlier)
    courses = tuple(
        replace(course, doses=tuple(replace(dose, rank=dose.rank + 7) for dose in course.doses))
        for course in cohort.courses
    )
    cohorts[number] = replace(cohort, needs=needs, earlier=earlier, courses=courses)
    return replace(problem, cohorts=tuple(cohorts))


def test_a_change_planned_with_memory_is_as_planned_anew() -> None:
    for mix in (MIX, LIMITED):
        for seed in range(150):
            problem, memory = tiny(seed, mix), Memory()
            solve(problem, never, memory=memory)
            for step in range(3):
                problem = changed(problem, seed + step)
                assert solve(problem, never, memory=memory) == solve(problem, never), (mix, seed, step)


def without_day(problem: Problem, seed: int) -> Problem:
    """The problem without the courses, duties apart, that have a dose on one day."""
    draw = Random(seed)
    day = draw.choice([dose.day for cohort in problem.cohorts for course in cohort.courses for dose in course.doses])
    cohorts = []
    for cohort in problem.cohorts:
        owed = {number for duty in cohort.duties for number in duty}
        kept = [
            number
            for number, course in enumerate(cohort.courses)
            if number in owed or all(dose.day != day for dose in course.doses)
        ]
        cohorts.append(narrowed(cohort, kept))
    return replace(problem, cohorts=tuple(cohorts))


def test_a_day_less_planned_with_memory_is_as_planned_anew() -> None:
    held = 0
    for mix in (MIX, LIMITED):
        for seed in range(150):
            problem, memory = tiny(seed, mix), Memory()
            first = solve(problem, never, memory=memory)
            less = without_day(problem, seed)
            assert solve(less, never, memory=memory) == solve(less, never), (mix, seed)
            if isinstance(first, Solved) and less != problem:
                held += len(memory.held(less, ties=True)) > 0
    assert held > 50


def test_what_does_not_change_is_not_solved_again() -> None:
    problem, memory = tiny(3, MIX), Memory()
    first = solve(problem, never, memory=memory)
    cohorts, groups = dict(memory.cohorts), dict(memory.groups)
    assert cohorts
    assert groups
    assert solve(problem, never, memory=memory) == first
    assert memory.cohorts == cohorts
    assert memory.groups == groups


def test_what_the_clock_cut_short_is_not_kept() -> None:
    memory = Memory()
    solve(tiny(3, MIX), lambda: True, memory=memory)
    assert not memory.cohorts
    assert not memory.groups


def test_a_change_priced_from_what_is_near_costs_what_it_costs_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    proved = []

    def noted(*args: Any) -> Begun | None:
        proved.append(begun_near(*args))
        return proved[-1]

    monkeypatch.setattr(roomy, "begun_near", noted)
    for seed in range(300):
        problem, memory = tiny(seed, MIX), Memory()
        solve(problem, never, memory=memory)
        for step in range(3):
            problem = changed(problem, seed + step)
            again, anew = solve(problem, never, ties=False, memory=memory), solve(problem, never, ties=False)
            if isinstance(again, Solved) and isinstance(anew, Solved):
                assert replace(again.cost, moved=0) == replace(anew.cost, moved=0), (seed, step)
                assert again.gap is anew.gap is None, (seed, step)
            else:
                assert again == anew, (seed, step)
    assert any(known is not None for known in proved)
