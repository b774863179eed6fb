"""From the duals of a linear programme to whole prices, rounded so that they stay on the safe side."""

import math
from collections.abc import Sequence

from scheduler.planner.potential import Prices
from scheduler.planner.rows import Block


def prices_of(block: Block, duals: Sequence[float], scale: int, unmet: float | None, exposure: int) -> Prices:
    """Whole prices, `scale` to a unit of the programme; `unmet` is the dual of the limit on exposure, if it had one."""
    rows = [
        _down(duals[r] * scale) if row.need < 0 else max(0, _down(duals[r] * scale))
        for row, r in zip(block.layout.rows, block.rows, strict=True)
    ]
    limits = [(mask, most, max(0, _up(-duals[r] * scale))) for mask, most, r in block.limits]
    shares = tuple(
        tuple((mask, max(0, _down(-duals[r] * scale))) for mask, r in own if -duals[r] * scale >= 1)
        for own in block.shares
    )
    return Prices(
        rows=tuple(rows),
        limits=tuple(limit for limit in limits if limit[2]),
        shares=shares or ((),) * len(block.layout.items),
        covers=tuple(max(0, _down(duals[r] * scale)) for r in block.covers) or (0,) * len(rows),
        unmet=None if unmet is None else max(0, _up(unmet * scale)),
        exposure=exposure,
    )


def gather_prices(block: Block, duals: Sequence[float], scale: int) -> dict[int, int]:
    """What the cohort pays of each gather, by number of gather."""
    pairs = zip(block.layout.items, block.ties, strict=True)
    return {
        item.gather: max(0, _down(-duals[row] * scale))
        for item, row in pairs
        if item.gather is not None and row is not None
    }


def _down(value: float) -> int:
    return math.floor(value + 1e-9)


def _up(value: float) -> int:
    return math.ceil(value - 1e-9)
