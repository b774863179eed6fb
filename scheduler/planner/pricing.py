"""All cohorts at a price of exposure: units, split of each gather's cost, and bounds."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from scheduler.planner.component import Component, Scale, part_of, scale_of
from scheduler.planner.exposure import Exposure, plain
from scheduler.planner.hull import Ground
from scheduler.planner.relaxation import relax
from scheduler.planner.states import Work
from scheduler.planner.steps import stepped

Clock = Callable[[], bool]

STEP_STATES = 30_000


def scale_at(ground: Ground, price: Fraction) -> Scale:
    """Units in which money, its counts and exposure at the price are whole."""
    scale = scale_of(ground.layouts)
    return replace(scale, money=scale.money * price.denominator, unmet=scale.money * price.numerator)


def begun_at(ground: Ground, scale: Scale, price: Fraction, out_of_time: Clock) -> tuple[Component, list[int]]:
    """All cohorts with a split of each gather's cost, and a proved bound for each at this split."""
    parts, split, bounds = [], [], []
    for layouts, start in ground.tied:
        starts = [Exposure(0, 0, plan, plain(layout)) for layout, plan in zip(layouts, start, strict=True)]
        own = [part_of(layout, one, scale) for layout, one in zip(layouts, starts, strict=True)]
        component = Component(ground.problem, own, scale, relax(ground.problem, own, scale, out_of_time))
        steps = stepped(component, start, Work(STEP_STATES, out_of_time))
        parts += own
        split += steps.split
        bounds += steps.bounds
    return Component(ground.problem, parts, scale, split), bounds
