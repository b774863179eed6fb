"""The whole order of the objective, against every choice of courses (tests/planner/brute.py)."""

import os
import subprocess
import sys

import pytest
from msgspec.structs import replace

from scheduler.planner import Impossible, Problem, Solved, solve
from tests.planner.brute import Best, best_choice, dose_list, first_four
from tests.planner.tiny import Mix, tiny

BLOCK = 40
FREE = Mix(courses=8)
LIMITED = Mix(courses=8, capacity=True)


def never() -> bool:
    """A clock that does not run out."""
    return False


def held_to(problem: Problem, best: Best | None, seed: int) -> None:
    """Solves the problem and compares every objective, then the choice itself."""
    answer = solve(problem, never)
    if best is None:
        assert isinstance(answer, Impossible), seed
        return
    assert isinstance(answer, Solved), seed
    cost = answer.cost
    assert answer.gap is None, seed
    assert (cost.exposure, cost.money, cost.paid_gathers, cost.handlings) == best.four, seed
    assert first_four(problem, answer.chosen) == best.four, seed
    assert cost.moved == best.moved, seed
    assert dose_list(problem, answer.chosen) == best.ranks, seed
    assert answer.chosen == best.chosen, seed


@pytest.mark.parametrize("block", range(20))
def test_the_choice_is_the_least_of_all(block: int) -> None:
    for seed in range(block * BLOCK, (block + 1) * BLOCK):
        problem = tiny(seed, FREE)
        held_to(problem, best_choice(problem), seed)


@pytest.mark.parametrize("block", range(12))
def test_the_choice_within_a_day_capacity_is_the_least_of_all(block: int) -> None:
    for seed in range(block * BLOCK, (block + 1) * BLOCK):
        problem = tiny(seed, LIMITED)
        held_to(problem, best_choice(problem), seed)


def test_dear_days_tied_once_hid_the_better_of_two_equal_plans() -> None:
    for seed in (320, 368, 480, 1074, 1228):
        problem = tiny(seed, Mix(courses=9))
        held_to(problem, best_choice(problem), seed)


def test_the_problems_hold_what_they_are_meant_to_hold() -> None:
    problems = [tiny(seed, FREE) for seed in range(10 * BLOCK)]
    found = [best_choice(problem) for problem in problems[: 3 * BLOCK]]
    cohorts = [cohort for problem in problems for cohort in problem.cohorts]
    assert sum(best is None for best in found) >= 5
    assert sum(best is not None and len(best.all) > 1 for best in found) >= 15
    assert any(cap == 0 for cohort in cohorts for counter in cohort.counters for cap in counter.caps)
    assert any(len(set(counter.caps)) > 2 for cohort in cohorts for counter in cohort.counters)
    assert any(len(need.clauses) > 1 for cohort in cohorts for need in cohort.needs)
    assert any(len(cohort.duties) > 1 for cohort in cohorts)
    assert {(gather.cost > 0, gather.paid) for problem in problems for gather in problem.gathers} == {
        (False, False), (False, True), (True, False), (True, True)
    }  # fmt: skip


def test_order_of_cohorts_does_not_change_the_cost() -> None:
    for seed in range(60):
        problem = tiny(seed, FREE)
        turned = replace(problem, cohorts=problem.cohorts[::-1])
        one, other = solve(problem, never), solve(turned, never)
        assert isinstance(one, Impossible) == isinstance(other, Impossible)
        if isinstance(one, Solved) and isinstance(other, Solved):
            assert (one.cost, one.chosen) == (other.cost, other.chosen[::-1]), seed


def test_one_more_course_never_raises_exposure() -> None:
    for seed in range(60):
        problem = tiny(seed, Mix(courses=8, duties=False))
        fewer = replace(problem, cohorts=tuple(replace(c, apart=_all_apart(c.apart)) for c in problem.cohorts))
        free, bound = solve(problem, never), solve(fewer, never)
        assert isinstance(free, Solved)
        assert isinstance(bound, Solved)
        assert free.cost.exposure <= bound.cost.exposure, seed


def _all_apart(apart: tuple[int, ...]) -> tuple[int, ...]:
    everyone = (1 << len(apart)) - 1
    return tuple(everyone & ~(1 << i) for i in range(len(apart)))


ANSWERS = """
from scheduler.planner import solve
from tests.planner.tiny import Mix, tiny
for seed in range(40):
    print(solve(tiny(seed, Mix(courses=8, capacity=seed % 2 == 0)), lambda: False))
"""


def test_the_hash_seed_does_not_change_the_answers() -> None:
    outputs = []
    for hash_seed in ("0", "1"):
        environment = os.environ | {"PYTHONHASHSEED": hash_seed}
        done = subprocess.run([sys.executable, "-c", ANSWERS], capture_output=True, check=True, env=environment)
        assert done.stderr == b""
        outputs.append(done.stdout)
    assert outputs[0] == outputs[1]
    assert outputs[0].count(b"\n") == 40
