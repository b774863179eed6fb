"""Lower bounds for the search from prices of rows: Lagrange's bound with whole numbers, so no float is trusted.

For any prices >= 0 of rows, conflicts and counters, and any shares of items, the cost of a plan is at least `bound`
plus the penalties met on the way; every penalty is 0 or more.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from scheduler.planner.instance import members
from scheduler.planner.layout import Layout


@dataclass(frozen=True, slots=True)
class Prices:
    """Whole prices in some unit of cost.

    rows: by row. limits: (mask of courses, most of them, price). shares: by item (mask of courses of which at most one
    is taken, price).
    covers: by row, that one of its gathers is used.
    unmet: price of a unit of exposure, None where every need must be met.
    """

    rows: tuple[int, ...]
    limits: tuple[tuple[int, int, int], ...]
    shares: tuple[tuple[tuple[int, int], ...], ...]
    covers: tuple[int, ...]
    unmet: int | None
    exposure: int


@dataclass(frozen=True, slots=True)
class Potential:
    """Penalties by course, row and item, as the search meets them.

    take, skip: of a course. row: of meeting a row once more. cover: of using a gather more for it. lose: of a need left
    unmet, None where that may not be.
    open, shut: of an item used, and of one never used when its last course has passed (by course).
    closing: (mask, most, price) of the limits whose last course it is, by course.
    """

    bound: int
    take: tuple[int, ...]
    skip: tuple[int, ...]
    row: tuple[int, ...]
    priced: int
    cover: tuple[int, ...]
    lose: tuple[int | None, ...]
    open: tuple[int, ...]
    shut: tuple[tuple[tuple[int, int], ...], ...]
    closing: tuple[tuple[tuple[int, int, int], ...], ...]


def potential_of(layout: Layout, costs: Sequence[int], charges: Sequence[int], prices: Prices) -> Potential:
    """Potential at given costs of courses and charges of items.

    `unmet` prices exposure that is limited to `exposure` in all.
    """
    count = len(layout.meets)
    reduced = list(costs)
    for i, met in enumerate(layout.meets):
        for r in members(met):
            reduced[i] -= prices.rows[r]
    for mask, _, price in prices.limits:
        for i in members(mask):
            reduced[i] += price
    left = list(charges)
    for k, shares in enumerate(prices.shares):
        for mask, share in shares:
            left[k] -= share
            for i in members(mask):
                reduced[i] += share
    for items, price in zip(layout.covers, prices.covers, strict=True):
        if price:
            for k in members(items):
                left[k] -= price
    lose = tuple(_lose(layout, prices, need) for need in range(len(layout.slots)))
    bound = sum(prices.rows) + sum(prices.covers) - sum(most * price for _, most, price in prices.limits)
    bound -= (prices.unmet or 0) * prices.exposure
    bound += sum(min(0, value) for value in reduced) + sum(min(0, value) for value in left)
    bound += sum(min(0, value) for value in lose if value is not None)
    closing: list[list[tuple[int, int, int]]] = [[] for _ in range(count)]
    for limit in prices.limits:
        if limit[2]:
            closing[limit[0].bit_length() - 1].append(limit)
    return Potential(
        bound=bound,
        take=tuple(max(0, value) for value in reduced),
        skip=tuple(max(0, -value) for value in reduced),
        row=prices.rows,
        cover=prices.covers,
        priced=sum(1 << r for r, price in enumerate(prices.rows) if price and layout.rows[r].need >= 0),
        lose=tuple(None if value is None else max(0, value) for value in lose),
        open=tuple(max(0, value) for value in left),
        shut=_shut(layout, left, count),
        closing=tuple(tuple(own) for own in closing),
    )


def _lose(layout: Layout, prices: Prices, need: int) -> int | None:
    if prices.unmet is None:
        return None
    weight = layout.instance.needs[need][0]
    return prices.unmet * weight - sum(prices.rows[r] + prices.covers[r] for r in members(layout.slots[need]))


def _shut(layout: Layout, left: Sequence[int], count: int) -> tuple[tuple[tuple[int, int], ...], ...]:
    shut: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    for item, value in zip(layout.items, left, strict=True):
        if value < 0:
            shut[item.courses.bit_length() - 1].append((item.courses, -value))
    return tuple(tuple(own) for own in shut)


def plain_prices(layout: Layout, unmet: int | None, exposure: int) -> Prices:
    """Prices that say nothing: the bound is 0."""
    return Prices((0,) * len(layout.rows), (), ((),) * len(layout.items), (0,) * len(layout.rows), unmet, exposure)


def least_price(prices: Mapping[int, int], gather: int | None) -> int:
    """Price of a gather, 0 where it has none."""
    return 0 if gather is None else prices.get(gather, 0)
