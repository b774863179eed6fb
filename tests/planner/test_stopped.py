"""A planner that is stopped early: its choice keeps every limit, and the gap that it tells is true."""

from collections.abc import Callable
from functools import partial

import pytest

from scheduler.planner import Cost, Gap, Impossible, Problem, Solved, solve
from tests.planner.brute import Best, best_choice, first_four, keeps_capacity, lawful_plans
from tests.planner.tiny import Mix, tiny

STEPS = (0, 1, 2, 3, 5, 8, 12, 20, 40, 80)


def after(calls: int) -> Callable[[], bool]:
    """A clock that runs out at the call after so many."""
    left = calls

    def out_of_time() -> bool:
        nonlocal left
        left -= 1
        return left < 0

    return out_of_time


def judged(problem: Problem, best: Best, answer: Solved) -> None:
    """Asserts that the answer is lawful, its figures its own, and its gap no less than the truth."""
    for cohort, picked in zip(problem.cohorts, answer.chosen, strict=True):
        assert picked in set(lawful_plans(cohort))
    assert keeps_capacity(problem, answer.chosen)
    cost, gap = answer.cost, answer.gap
    assert first_four(problem, answer.chosen) == (cost.exposure, cost.money, cost.paid_gathers, cost.handlings)
    exposure, money = best.four[:2]
    assert (cost.exposure, cost.money) >= (exposure, money)
    if gap is None:
        assert (cost.exposure, cost.money) == (exposure, money)
        return
    assert cost.exposure - gap.exposure <= exposure
    assert gap.exposure >= 0
    if gap.money is not None:
        assert gap.exposure == 0
        assert cost.money - gap.money <= money
        assert gap.money >= 0


@pytest.mark.parametrize("capacity", [False, True])
@pytest.mark.parametrize("calls", STEPS)
def test_stopped_after_any_number_of_calls(calls: int, capacity: bool) -> None:
    for seed in range(50):
        problem = tiny(seed, Mix(courses=7, capacity=capacity))
        best = best_choice(problem)
        answer = solve(problem, after(calls))
        if best is None:
            assert isinstance(answer, Impossible), seed
        else:
            assert isinstance(answer, Solved), seed
            judged(problem, best, answer)


def test_progress_tells_true_gaps() -> None:
    for seed in range(50):
        problem = tiny(seed, Mix(courses=7))
        best = best_choice(problem)
        if best is None:
            continue
        told: list[tuple[Cost, Gap]] = []
        solve(problem, after(1000), partial(_keep, told))
        assert told
        assert all(cost.exposure - gap.exposure <= best.four[0] for cost, gap in told), seed


def _keep(told: list[tuple[Cost, Gap]], cost: Cost, gap: Gap) -> None:
    told.append((cost, gap))
