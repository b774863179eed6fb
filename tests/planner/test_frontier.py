"""The pairs of exposure and money, and the best within a budget, against every choice (tests/planner/brute.py)."""

from fractions import Fraction
from itertools import pairwise, product

import pytest

from scheduler.planner import Frontier, Problem, Solved, TooLittle, frontier, is_lawful, solve, within_budget
from scheduler.planner.hull import ground_of
from scheduler.planner.score import cost_of
from tests.planner.brute import Key, first_four, keeps_capacity, lawful_plans
from tests.planner.tiny import Mix, tiny

BLOCK = 30
MIXES = {"free": Mix(courses=8), "within a day capacity": Mix(courses=8, capacity=True)}
MANY = 1000


def never() -> bool:
    """A clock that does not run out."""
    return False


def all_keys(problem: Problem) -> list[Key]:
    """Exposure, money, paid gathers and handlings of every lawful choice."""
    choices = product(*(list(lawful_plans(cohort)) for cohort in problem.cohorts))
    return [first_four(problem, chosen) for chosen in choices if keeps_capacity(problem, chosen)]


def pairs_of(keys: list[Key]) -> list[tuple[int, int]]:
    """The undominated pairs, by definition, least exposed first."""
    pairs = {(exposed, money) for exposed, money, _, _ in keys}
    return sorted(
        pair for pair in pairs
        if not any(other != pair and other[0] <= pair[0] and other[1] <= pair[1] for other in pairs)
    )  # fmt: skip


def told(found: Frontier) -> list[tuple[int, int]]:
    """The pairs of a frontier."""
    return [(choice.cost.exposure, choice.cost.money) for choice in found.choices]


def problems(mix: str, block: int) -> list[tuple[Problem, Solved]]:
    """Problems that have a lawful choice, with the least one."""
    found = [tiny(seed, MIXES[mix]) for seed in range(block * BLOCK, (block + 1) * BLOCK)]
    return [(one, first) for one in found if isinstance(first := solve(one, never), Solved)]


@pytest.mark.parametrize("block", range(8))
@pytest.mark.parametrize("mix", MIXES)
def test_the_frontier_is_that_of_all_choices(mix: str, block: int) -> None:
    for problem, first in problems(mix, block):
        found = frontier(problem, first, MANY, never)
        assert told(found) == pairs_of(all_keys(problem)), problem
        assert found.complete
        assert all(is_lawful(problem, choice.chosen) for choice in found.choices)


@pytest.mark.parametrize("block", range(8))
@pytest.mark.parametrize("mix", MIXES)
def test_a_budget_buys_the_best_that_it_affords(mix: str, block: int) -> None:
    for problem, first in problems(mix, block):
        keys = all_keys(problem)
        sums = sorted(money for _, money in pairs_of(keys))
        for budget in sorted({budget for money in sums for budget in (money - 1, money, money + 1)}):
            found = within_budget(problem, first, budget, never)
            affordable = [key for key in keys if key[1] <= budget]
            if isinstance(found, TooLittle):
                assert not affordable
                assert found.money == sums[0]
            else:
                assert found.gap is None
                assert first_four(problem, found.chosen) == min(affordable), (problem, budget)


PRICES = [Fraction(n, d) for n, d in ((1, 100), (40, 1), (3, 1), (1, 2), (7, 3), (1, 1), (2, 1), (9, 1), (5, 3))]


@pytest.mark.parametrize("prices", [PRICES, PRICES[::-1], sorted(PRICES)])
def test_whatever_prices_were_asked_before_the_least_sum_is_that_of_all_choices(prices: list[Fraction]) -> None:
    for problem, first in problems("free", 4):
        keys = all_keys(problem)
        ground = ground_of(problem, first.chosen)
        for price in prices:
            chosen = ground.at(price, never)
            assert chosen is not None
            assert is_lawful(problem, chosen)
            cost = cost_of(problem, chosen)
            least = min(money + price * exposed for exposed, money, _, _ in keys)
            assert cost.money + price * cost.exposure == least, (problem, price)
        for hull in ground.hulls:
            ranges = sorted((corner.low, corner.high) for corner in hull.corners)
            assert all(one[1] <= other[0] for one, other in pairwise(ranges))


@pytest.mark.parametrize("most", [2, 3, 4])
def test_of_many_pairs_some_are_kept_with_both_ends_and_the_corners_first(most: int) -> None:
    seen = 0
    for problem, first in problems("free", 0) + problems("free", 1):
        everything = pairs_of(all_keys(problem))
        found = frontier(problem, first, most, never)
        pairs = told(found)
        assert set(pairs) <= set(everything)
        assert found.complete == (len(everything) <= most)
        assert len(pairs) == min(most, len(everything))
        assert (pairs[0], pairs[-1]) == (everything[0], everything[-1])
        corners = hull(everything)
        assert set(corners) <= set(pairs) if len(corners) <= most else set(pairs) <= set(corners)
        seen += len(everything) > most
    assert seen >= 3


def hull(pairs: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """The pairs at which the lower hull turns."""
    kept: list[tuple[int, int]] = []
    for pair in pairs:
        while len(kept) > 1 and _turns_up(kept[-2], kept[-1], pair):
            kept.pop()
        kept.append(pair)
    return kept


def _turns_up(a: tuple[int, int], b: tuple[int, int], c: tuple[int, int]) -> bool:
    return (b[0] - a[0]) * (c[1] - a[1]) <= (b[1] - a[1]) * (c[0] - a[0])


@pytest.mark.parametrize("steps", [0, 1, 5, 25, 125, 625])
def test_a_clock_that_ends_early_leaves_only_what_is_proved(steps: int) -> None:
    for problem, first in problems("free", 2):
        left = [steps]

        def out_of_time(left: list[int] = left) -> bool:
            left[0] -= 1
            return left[0] < 0

        everything = pairs_of(all_keys(problem))
        found = frontier(problem, first, MANY, out_of_time)
        assert set(told(found)) <= set(everything)
        assert told(found) == everything or not found.complete
        missing = set(everything) - set(told(found))
        assert not found.choices or all(any(a < e < b for a, b in found.unsearched) for e, _ in missing)


def test_a_budget_under_a_clock_that_ends_early_is_kept_and_its_gap_is_true() -> None:
    for problem, first in problems("free", 3):
        pairs = pairs_of(all_keys(problem))
        for (left, _), (_, money) in pairwise(pairs):
            found = within_budget(problem, first, money, lambda: True)
            assert isinstance(found, Solved)
            assert found.cost.money <= money
            gap = 0 if found.gap is None else found.gap.exposure
            best = min(exposed for exposed, cost in pairs if cost <= money)
            assert found.cost.exposure - gap <= best <= found.cost.exposure
            assert left < best
