"""The ways that large problems take, tried on tiny ones: with no work for the search, or no answers for bars."""

import pytest

from scheduler.planner import Impossible, Solved, capacity, settling, solve
from tests.planner.brute import best_choice, first_four, keeps_capacity
from tests.planner.tiny import Mix, tiny

SEEDS = range(120)


def never() -> bool:
    """A clock that does not run out."""
    return False


def held_to_the_first_four(mix: Mix) -> None:
    """Exposure, money, paid gathers and handlings are those of the least choice, for every seed."""
    for seed in SEEDS:
        problem = tiny(seed, mix)
        best, answer = best_choice(problem), solve(problem, never)
        if best is None:
            assert isinstance(answer, Impossible), seed
            continue
        assert isinstance(answer, Solved), seed
        assert answer.gap is None, seed
        assert keeps_capacity(problem, answer.chosen), seed
        assert first_four(problem, answer.chosen) == best.four, seed


def test_the_programme_closes_what_the_search_leaves(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(settling, "BRANCH_STATES", -1)
    held_to_the_first_four(Mix())


def test_the_programme_closes_beside_barred_days(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(settling, "BRANCH_STATES", -1)
    held_to_the_first_four(Mix(capacity=True))


def test_one_programme_keeps_the_day_capacity_where_bars_are_too_many(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(capacity, "FULL_ANSWERS", 0)
    monkeypatch.setattr(capacity, "QUICK_ANSWERS", 0)
    held_to_the_first_four(Mix(capacity=True))
