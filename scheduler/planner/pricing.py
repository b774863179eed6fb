"""All cohorts at a price of exposure: units, split of each gather's cost, and bounds."""

from collections.abc import Callable
from fractions import Fraction

from msgspec.structs import replace

from scheduler.planner.component import Component, Scale, scale_of
from scheduler.planner.exposure import priced
from scheduler.planner.hull import Ground
from scheduler.planner.states import Work
from scheduler.planner.steps import stepped_from

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
        starts = [priced(layout, plan) for layout, plan in zip(layouts, start, strict=True)]
        steps = stepped_from(ground.problem, layouts, starts, scale, Work(STEP_STATES, out_of_time))
        parts += steps.component.parts
        split += steps.split
        bounds += steps.bounds
    return Component(ground.problem, parts, scale, split), bounds
