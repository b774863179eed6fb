"""What a search leaves open, closed by an integer programme on the courses that can still be in a better choice."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from scheduler.planner.close import Whole, whole_of
from scheduler.planner.component import Component, Part
from scheduler.planner.instance import instance_of
from scheduler.planner.layout import Layout, layout_of
from scheduler.planner.relax import Outcome, lowest, run

Clock = Callable[[], bool]
HALF = 0.5
NODES = 100
"""Most nodes of a programme that proves nothing that is promised."""


@dataclass(frozen=True, slots=True)
class Closed:
    """A plan for each cohort, and a proved bound on their money."""

    plans: list[int]
    money: int


def closed(component: Component, plans: Sequence[int], bounds: Sequence[int], out_of_time: Clock) -> Closed:
    """The least money, then the fewest paid gathers and handlings; `plans` are lawful and kept where none is better.

    bounds: of each cohort's cost at the component's split; their sum is proved. A bound is often close to the least
    money, and the plans are not: so a choice of little more than the bound is looked for first, among few courses.
    """
    unit = component.scale.money
    least, upper = sum(bounds) // unit, component.cost(plans) // unit
    if least >= upper:
        return Closed(_Tried(component, plans, bounds, upper).fewest_handlings(), upper)
    for money in _guesses(least, upper):
        if out_of_time():
            break
        tried = _Tried(component, plans, bounds, money)
        outcome = tried.least_money(out_of_time)
        if outcome.optimal:
            proved = lowest(outcome.bound)
            return Closed(_Tried(component, tried.plans, bounds, proved).fewest_handlings(), proved)
        least = max(least, min(money + 1, tried.bound(outcome)))
        plans = min(tried.plans, plans, key=component.cost)
    return Closed(list(plans), min(least, component.cost(plans) // unit))


def _guesses(least: int, upper: int) -> list[int]:
    """Money that the least choice could take, up to `upper`, which is known to do."""
    return sorted({least, least + (upper - least) // 8, upper})


class _Tried:
    """The programme of all choices of at most so much money, on the courses that can be in one of them."""

    def __init__(self, component: Component, plans: Sequence[int], bounds: Sequence[int], money: int) -> None:
        self.component = component
        self.plans = list(plans)
        most = (money + 1) * component.scale.money - 1
        known = plans if component.cost(plans) <= most else [0] * len(plans)
        slack = most - sum(bounds)
        layouts = [
            still_open(part, split, own + slack, plan)
            for part, split, own, plan in zip(component.parts, component.split, bounds, known, strict=True)
        ]
        self.whole = whole_of(component.problem, layouts)
        for part, block in zip(component.parts, self.whole.blocks, strict=True):
            lost = block.layout.instance.lost - part.layout.instance.lost
            self.whole.programme.row(block.exposure(), high=part.exposure.least - lost)
        self.whole.programme.row(self.whole.money(), high=money + HALF)

    def least_money(self, out_of_time: Clock) -> Outcome:
        """Minimises money; the plans found are kept."""
        self.whole.aim((1.0, self.whole.money()))
        outcome = run(self.whole.programme, out_of_time)
        self._keep(outcome)
        return outcome

    def bound(self, outcome: Outcome) -> int:
        """The least money of these choices, as far as it is proved."""
        if outcome.infeasible:
            return 1 << 62
        return lowest(outcome.bound) if outcome.bound > 0 else 0

    def fewest_handlings(self) -> list[int]:
        """The fewest paid gathers and handlings, within a bound of work and off the clock."""
        self.whole.aim(*_counts(self.whole))
        self._keep(run(self.whole.programme, lambda: False, nodes=NODES))
        return self.plans

    def _keep(self, outcome: Outcome) -> None:
        if outcome.values:
            found = _plans(self.whole, self.component, outcome.values)
            self.plans = min(self.plans, found, key=self.component.cost)


def _counts(whole: Whole) -> tuple[tuple[float, list[tuple[int, float]]], ...]:
    """Paid gathers first, then handlings, as one sum; with money, which is settled, to show what is too dear."""
    handlings = whole.handlings()
    unit = float(len(handlings) + 1)
    return ((unit, whole.money()), (unit, whole.paid()), (1.0, handlings))


def still_open(part: Part, split: dict[int, int], most: int, plan: int) -> Layout:
    """The cohort without the courses with which every plan costs over `most` at the split."""
    potential, whole = part.potential(part.charges(split)), part.layout.instance
    left = {whole.origin[i] for i, take in enumerate(potential.take) if potential.bound + take <= most or plan >> i & 1}
    struck = sum(1 << number for number in range(len(whole.cohort.courses)) if number not in left)
    instance = instance_of(whole.number, whole.cohort, struck)
    return part.layout if instance is None else layout_of(instance)


def _plans(whole: Whole, component: Component, values: Sequence[float]) -> list[int]:
    picked = whole.picked(values)
    return [part.layout.instance.mask_of(picked[part.layout.instance.number]) for part in component.parts]
