"""What a search leaves open, closed by an integer programme on the courses that can still be in a better choice."""

from collections.abc import Callable, Sequence

from msgspec import Struct

from scheduler.planner.close import whole_of
from scheduler.planner.component import Component, Part
from scheduler.planner.instance import instance_of
from scheduler.planner.layout import Layout, layout_of
from scheduler.planner.relax import lowest, run

Clock = Callable[[], bool]
HALF = 0.5
MOST_COURSES = 8_000
"""More than so many take hundreds of megabytes, and no bound better than that of the steps in a minute."""


class Closed(Struct, frozen=True):
    """A plan for each cohort, and a proved bound on their money."""

    plans: list[int]
    money: int


def closed(component: Component, plans: Sequence[int], bounds: Sequence[int], out_of_time: Clock) -> Closed:
    """The least money, then the fewest paid gathers and handlings; `plans` are lawful and kept where none is better.

    bounds: of each cohort's cost at the component's split; their sum is proved.
    """
    unit, upper = component.scale.money, component.cost(plans)
    slack = upper - sum(bounds)
    layouts = [
        still_open(part, split, own + slack, plan)
        for part, split, own, plan in zip(component.parts, component.split, bounds, plans, strict=True)
    ]
    if sum(len(layout.instance.courses) for layout in layouts) > MOST_COURSES:
        return Closed(list(plans), 0)
    whole = whole_of(component.problem, layouts)
    for part, block in zip(component.parts, whole.blocks, strict=True):
        lost = block.layout.instance.lost - part.layout.instance.lost
        whole.programme.row(block.exposure(), high=part.exposure.least - lost)
    whole.programme.row(whole.money(), high=upper // unit + HALF)
    each = whole.aim_cost()
    outcome = run(whole.programme, out_of_time, absolute_gap=HALF)
    best = list(plans)
    if outcome.values:
        found = whole.plans(outcome.values, [part.layout for part in component.parts])
        best = min(best, found, key=component.cost)
    if outcome.infeasible:
        return Closed(best, upper // unit)
    proved = lowest(outcome.bound / each) if outcome.bound > 0 else 0
    return Closed(best, min(proved, component.cost(best) // unit))


def still_open(part: Part, split: dict[int, int], most: int, plan: int) -> Layout:
    """The cohort without the courses with which every plan costs over `most` at the split."""
    potential, whole = part.potential(part.charges(split)), part.layout.instance
    left = {whole.origin[i] for i, take in enumerate(potential.take) if potential.bound + take <= most or plan >> i & 1}
    struck = sum(1 << number for number in range(len(whole.cohort.courses)) if number not in left)
    instance = instance_of(whole.number, whole.cohort, struck)
    return part.layout if instance is None else layout_of(instance)
