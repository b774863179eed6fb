"""What exposure and money can be had together: the undominated pairs, and the least exposure within a budget."""

from collections.abc import Callable, Iterator
from fractions import Fraction
from itertools import pairwise

from msgspec import Struct, field

from scheduler.planner.answer import Cost, Gap, Solved
from scheduler.planner.hull import Ground, ground_of
from scheduler.planner.problem import Problem
from scheduler.planner.score import Chosen, cost_of, days_over
from scheduler.planner.within import Within

Clock = Callable[[], bool]
Between = tuple[int, int]
"""Exposure of two neighbours."""


class Frontier(Struct, frozen=True):
    """Undominated choices, least exposed first; `complete` where no undominated pair is missing.

    unsearched: exposure of the neighbours between which more pairs may lie because the clock ended the search.
    """

    choices: tuple[Solved, ...]
    complete: bool
    unsearched: tuple[Between, ...]


class Trade(Struct):
    """The pairs found so far. `ends`: the least exposed choice, proved or not, and the cheapest."""

    ground: Ground
    out_of_time: Clock
    pairs: dict[int, Solved] = field(default_factory=dict)
    edges: set[Between] = field(default_factory=set)
    empty: set[Between] = field(default_factory=set)

    def add(self, chosen: Chosen) -> Solved:
        """Keeps a choice that is proved undominated."""
        cost = cost_of(self.ground.problem, chosen)
        solved = Solved(tuple(tuple(picked) for picked in chosen), cost, None)
        self.pairs.setdefault(cost.exposure, solved)
        return self.pairs[cost.exposure]

    def gaps(self) -> Iterator[tuple[Cost, Cost]]:
        """Neighbours between which there may be another pair."""
        costs = [self.pairs[exposure].cost for exposure in sorted(self.pairs)]
        for left, right in pairwise(costs):
            one_apart = right.exposure - left.exposure == 1 or left.money - right.money == 1
            if not one_apart and (left.exposure, right.exposure) not in self.empty:
                yield left, right

    def widest(self) -> tuple[Cost, Cost] | None:
        """The gap to look into next: one that may hold a corner, else any; the largest by area, the first of these."""
        gaps = list(self.gaps())
        open_ones = [gap for gap in gaps if (gap[0].exposure, gap[1].exposure) not in self.edges]
        return max(open_ones or gaps, key=_area, default=None)

    def holds_more(self) -> bool:
        """Whether corners of single components, put together, lie within a gap: then another pair does too."""
        sums = self.ground.sums()
        return any(
            left.exposure < exposure < right.exposure and right.money < money < left.money
            for left, right in self.gaps()
            for exposure, money in sums
        )

    def corner(self, left: Cost, right: Cost) -> Chosen | bool | None:
        """A corner between neighbours; None where there is none, False where the clock ended the search."""
        price = _price(left, right)
        chosen = self.ground.at(price, self.out_of_time)
        if chosen is None:
            return False
        cost = cost_of(self.ground.problem, chosen)
        inside = left.exposure < cost.exposure < right.exposure and right.money < cost.money < left.money
        under = _sum(cost, price) < _sum(left, price)
        return chosen if inside and under and not days_over(self.ground.problem, chosen) else None

    def inner(self, left: Cost, right: Cost) -> Chosen | bool | None:
        """A pair between neighbours, of least sum at their own slope; None where there is none, False where unknown."""
        price = _price(left, right)
        reached = Within(self.ground, price, right.exposure - 1, left.money - 1, self.out_of_time).least_sum()
        return reached.chosen if reached.over else False


def frontier(problem: Problem, first: Solved, most: int, out_of_time: Clock) -> Frontier:
    """The undominated pairs of exposure and money, at most so many of them, each with a choice.

    first: the least choice, as solve gives it. Where there are more than `most`: both ends, then corners of the hull,
    then what lies in the widest gaps. A pair not proved by the clock is left out.
    """
    trade = Trade(ground_of(problem, first.chosen), out_of_time)
    cheap = cheapest(trade)
    if cheap is None:
        return Frontier((), False, ())
    if first.cost.exposure < cheap.cost.exposure:
        trade.pairs[first.cost.exposure] = first
    unsearched = False
    while (gap := trade.widest()) is not None:
        between = (gap[0].exposure, gap[1].exposure)
        is_edge = between in trade.edges
        found = trade.inner(*gap) if is_edge else trade.corner(*gap)
        if isinstance(found, bool):
            unsearched = True
            break
        if found is None:
            (trade.empty if is_edge else trade.edges).add(between)
        elif len(trade.pairs) == most:
            break
        else:
            trade.add(found)
        if len(trade.pairs) == most and trade.holds_more():
            break
    left = tuple((one.exposure, other.exposure) for one, other in trade.gaps())
    proved = tuple(pair for _, pair in sorted(trade.pairs.items()) if pair.gap is None)
    return Frontier(proved, not left and len(proved) == len(trade.pairs), left if unsearched else ())


def cheapest(trade: Trade) -> Solved | None:
    """The choice of least money, of these the least exposed; None where the clock ended the search."""
    ground = trade.ground
    price = Fraction(1, ground.all_open + 1)
    chosen = ground.at(price, trade.out_of_time)
    if chosen is not None and days_over(ground.problem, chosen):
        chosen = _cheapest_by_programme(trade, price)
    return None if chosen is None else trade.add(chosen)


def _cheapest_by_programme(trade: Trade, price: Fraction) -> Chosen | None:
    """The same where the day capacity binds."""
    ground = trade.ground
    dear = sum(course.cost for cohort in ground.problem.cohorts for course in cohort.courses)
    dear += sum(gather.cost for gather in ground.problem.gathers)
    reached = Within(ground, price, ground.all_open, dear, trade.out_of_time).least_sum()
    return reached.chosen


class TooLittle(Struct, frozen=True):
    """No choice costs so little; `money` is the least sum."""

    money: int


def within_budget(problem: Problem, first: Solved, budget: int, out_of_time: Clock) -> Solved | TooLittle:
    """The least exposure for at most `budget`, then the least money, paid gathers and handlings.

    first: the least choice without a budget, as solve gives it.
    """
    if first.cost.money <= budget:
        return first
    trade = Trade(ground_of(problem, first.chosen), out_of_time)
    right = cheapest(Trade(trade.ground, lambda: False))
    if right is None:
        raise ArithmeticError("no choice is the cheapest: a mistake of the planner")
    if right.cost.money > budget:
        return TooLittle(right.cost.money)
    least = first.cost.exposure - (0 if first.gap is None else first.gap.exposure)
    left = first.cost
    while (found := trade.corner(left, right.cost)) is not None and not isinstance(found, bool):
        cost = cost_of(problem, found)
        if cost.money <= budget:
            right = trade.add(found)
        else:
            left = cost
            least = cost.exposure + 1
    return _least_exposed(trade, left, right, budget, least)


def _least_exposed(trade: Trade, left: Cost, right: Solved, budget: int, least: int) -> Solved:
    """Between a choice that costs too much and one that does not: the least exposure, then money and counts."""
    price = _price(left, right.cost)
    reached = Within(trade.ground, price, right.cost.exposure, budget, trade.out_of_time).least_exposure()
    found = right if reached.chosen is None else _solved(trade.ground.problem, reached.chosen)
    if reached.over:
        return found
    best = min(right, found, key=lambda one: (one.cost.exposure, one.cost.money))
    exposure = best.cost.exposure - max(least, reached.exposure)
    return Solved(best.chosen, best.cost, Gap(exposure, None) if exposure > 0 else Gap(0, best.cost.money))


def _solved(problem: Problem, chosen: Chosen) -> Solved:
    return Solved(tuple(tuple(picked) for picked in chosen), cost_of(problem, chosen), None)


def _order(solved: Solved) -> tuple[int, int, int, int]:
    cost = solved.cost
    return (cost.exposure, cost.money, cost.paid_gathers, cost.handlings)


def _price(left: Cost, right: Cost) -> Fraction:
    """Money that a unit of exposure less costs between two pairs."""
    return Fraction(left.money - right.money, right.exposure - left.exposure)


def _sum(cost: Cost, price: Fraction) -> Fraction:
    return cost.money + price * cost.exposure


def _area(gap: tuple[Cost, Cost]) -> int:
    return (gap[1].exposure - gap[0].exposure) * (gap[0].money - gap[1].money)
