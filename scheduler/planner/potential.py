"""Lower bounds for the search from prices of rows: Lagrange's bound with whole numbers, so no float is trusted.

For any prices >= 0 of rows, conflicts and counters, and any shares of items, the cost of a plan is at least `bound`
plus the penalties met on the way; every penalty is 0 or more.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence

from msgspec import Struct

from scheduler.planner.instance import members
from scheduler.planner.layout import Layout

Limit = tuple[int, int, int]
"""A mask of courses, most of them, and a price."""


class Prices(Struct, frozen=True):
    """Whole prices in some unit of cost.

    rows: by row. limits: (mask of courses, most of them, price). shares: by item (mask of courses of which at most one
    is taken, price).
    covers: by row, that one of its gathers is used.
    unmet: price of a unit of exposure, None where every need must be met.
    """

    rows: tuple[int, ...]
    limits: tuple[Limit, ...]
    shares: tuple[tuple[tuple[int, int], ...], ...]
    covers: tuple[int, ...]
    unmet: int | None
    exposure: int


class Potential(Struct, frozen=True):
    """Penalties by course, row and item, as the search meets them.

    take: of a course. row: of meeting a row once more. cover: of using a gather more for it. lose: of a need left
    unmet, None where that may not be. open: of an item used.
    unused: by day (see Layout), (mask, most, price) of the courses that end with it: the price for each that fewer than
    `most` of them are taken; so of limits, of items never used, and of courses better taken.
    """

    bound: int
    take: tuple[int, ...]
    row: tuple[int, ...]
    priced: int
    cover: tuple[int, ...]
    lose: tuple[int | None, ...]
    open: tuple[int, ...]
    unused: Mapping[int, tuple[Limit, ...]]


def potential_of(layout: Layout, costs: Sequence[int], charges: Sequence[int], prices: Prices) -> Potential:
    """Potential at given costs of courses and charges of items.

    `unmet` prices exposure that is limited to `exposure` in all.
    """
    reduced = list(costs)
    for row, price in zip(layout.rows, prices.rows, strict=True):
        if price:
            for i in members(row.courses):
                reduced[i] -= price
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
    return Potential(
        bound=bound,
        take=tuple(max(0, value) for value in reduced),
        row=prices.rows,
        cover=prices.covers,
        priced=sum(1 << r for r, price in enumerate(prices.rows) if price and layout.rows[r].need >= 0),
        lose=tuple(None if value is None else max(0, value) for value in lose),
        open=tuple(max(0, value) for value in left),
        unused=_unused(layout, prices.limits, reduced, left),
    )


def _lose(layout: Layout, prices: Prices, need: int) -> int | None:
    if prices.unmet is None:
        return None
    weight = layout.instance.needs[need][0]
    return prices.unmet * weight - sum(prices.rows[r] + prices.covers[r] for r in members(layout.slots[need]))


def _unused(
    layout: Layout, limits: Sequence[Limit], reduced: Sequence[int], left: Sequence[int]
) -> dict[int, tuple[Limit, ...]]:
    """What fewer courses than were priced cost, by the day on which the last of them begins."""
    short = [limit for limit in limits if limit[2]]
    short += [(1 << i, 1, -value) for i, value in enumerate(reduced) if value < 0]
    short += [(item.courses, 1, -value) for item, value in zip(layout.items, left, strict=True) if value < 0]
    days: dict[int, list[Limit]] = defaultdict(list)
    for limit in short:
        days[layout.day_of[limit[0].bit_length() - 1]].append(limit)
    return {day: tuple(own) for day, own in days.items()}


def plain_prices(layout: Layout, unmet: int | None, exposure: int) -> Prices:
    """Prices that say nothing: the bound is 0."""
    return Prices((0,) * len(layout.rows), (), ((),) * len(layout.items), (0,) * len(layout.rows), unmet, exposure)


def least_price(prices: Mapping[int, int], gather: int | None) -> int:
    """Price of a gather, 0 where it has none."""
    return 0 if gather is None else prices.get(gather, 0)
