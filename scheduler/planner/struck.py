"""What a search leaves open, closed by an integer programme on the courses that can still be in a better choice."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from scheduler.planner.close import Whole, whole_of
from scheduler.planner.component import Component, Part
from scheduler.planner.instance import instance_of
from scheduler.planner.layout import Layout, layout_of
from scheduler.planner.relax import lowest, run

Clock = Callable[[], bool]
HALF = 0.5


@dataclass(frozen=True, slots=True)
class Closed:
    """A plan for each cohort, and a proved bound on their money."""

    plans: list[int]
    money: int


def closed(component: Component, plans: Sequence[int], bounds: Sequence[int], out_of_time: Clock) -> Closed:
    """The least money, then the fewest paid gathers and handlings; `plans` are lawful and kept where none is better.

    bounds: of each cohort's cost at the component's split; their sum is proved.
    """
    if out_of_time():
        return Closed(list(plans), sum(bounds) // component.scale.money)
    slack = component.cost(plans) - sum(bounds)
    layouts = [
        still_open(part, split, own + slack, plan)
        for part, split, own, plan in zip(component.parts, component.split, bounds, plans, strict=True)
    ]
    whole = whole_of(component.problem, layouts)
    for part, block in zip(component.parts, whole.blocks, strict=True):
        lost = block.layout.instance.lost - part.layout.instance.lost
        whole.programme.row(block.exposure(), high=part.exposure.least - lost)
    best, least = list(plans), sum(bounds) // component.scale.money
    upper = component.cost(plans) // component.scale.money
    whole.programme.row(whole.money(), high=upper + HALF)
    for stage, aim in enumerate((((1.0, whole.money()),), _counts(component, whole))):
        whole.aim(*aim)
        outcome = run(whole.programme, out_of_time, start=_start(whole, component, best))
        if outcome.values:
            found = _plans(whole, component, outcome.values)
            best = min(best, found, key=component.cost)
        if stage == 0:
            least = max(least, lowest(outcome.bound)) if outcome.bound > 0 else least
            if not outcome.optimal:
                break
            whole.programme.row(whole.money(), high=component.cost(best) // component.scale.money + HALF)
    return Closed(best, min(least, component.cost(best) // component.scale.money))


def _counts(component: Component, whole: Whole) -> tuple[tuple[float, list[tuple[int, float]]], ...]:
    """Paid gathers first, then handlings, as one sum."""
    handlings = whole.handlings()
    return ((float(len(handlings) + 1), whole.paid()), (1.0, handlings))


def still_open(part: Part, split: dict[int, int], most: int, plan: int) -> Layout:
    """The cohort without the courses with which every plan costs over `most` at the split."""
    potential, whole = part.potential(part.charges(split)), part.layout.instance
    left = {whole.origin[i] for i, take in enumerate(potential.take) if potential.bound + take <= most or plan >> i & 1}
    struck = sum(1 << number for number in range(len(whole.cohort.courses)) if number not in left)
    instance = instance_of(whole.number, whole.cohort, struck)
    return part.layout if instance is None else layout_of(instance)


def _start(whole: Whole, component: Component, plans: Sequence[int]) -> dict[int, float]:
    start: dict[int, float] = {}
    for part, block, plan in zip(component.parts, whole.blocks, plans, strict=True):
        known = block.layout.instance.mask_of(part.layout.instance.picked(plan))
        start |= {column: float(known >> i & 1) for i, column in enumerate(block.courses)}
    return start


def _plans(whole: Whole, component: Component, values: Sequence[float]) -> list[int]:
    picked = whole.picked(values)
    return [part.layout.instance.mask_of(picked[part.layout.instance.number]) for part in component.parts]
