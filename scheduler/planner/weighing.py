"""The least sum of money and of exposure at a price: a corner of what can be had, or a point on an edge of it."""

from collections.abc import Callable, Sequence
from fractions import Fraction

from msgspec import Struct

from scheduler.planner.branch import Branch
from scheduler.planner.close import Whole, whole_of
from scheduler.planner.component import HANDLING, Component, Scale
from scheduler.planner.exposure import exposed_by, priced
from scheduler.planner.layout import Layout
from scheduler.planner.problem import Problem
from scheduler.planner.relax import lowest, run
from scheduler.planner.states import Work
from scheduler.planner.steps import stepped_from
from scheduler.planner.struck import still_open

Clock = Callable[[], bool]

STEP_STATES = 100_000
BRANCH_STATES = 100_000


class Weighed(Struct, frozen=True):
    """Plans of one component at one price of exposure, and for each cohort a proved bound on its cost at the split.

    cost, bound: of the component, in the units of `component.scale`; the plans are least where they are equal.
    """

    component: Component
    plans: tuple[int, ...]
    cost: int
    bounds: tuple[int, ...]
    bound: int

    @property
    def proved(self) -> bool:
        """Whether no plans cost less."""
        return self.bound >= self.cost


def price_scale(price: Fraction) -> Scale:
    """Units in which money and exposure at this price are whole; paid gathers and handlings count for nothing."""
    unit = HANDLING
    return Scale(
        money=price.denominator * unit, paid=0, handling=0, grain=unit, proof=unit, unmet=price.numerator * unit
    )


def weigh(
    problem: Problem,
    layouts: Sequence[Layout],
    known: Sequence[tuple[int, ...]],
    price: Fraction,
    written: Whole,
    out_of_time: Clock,
) -> Weighed:
    """The least plans of cohorts tied by gathers where a unit of exposure costs `price`.

    known: lawful plans, the best of them first. written: the linear programme of the cohorts.
    """
    starts = [priced(layout, plan) for layout, plan in zip(layouts, known[0], strict=True)]
    work = Work(STEP_STATES, out_of_time)
    steps = stepped_from(problem, layouts, starts, price_scale(price), work, written, known)
    component, bounds, best = steps.component, list(steps.bounds), list(steps.plans)
    bound = component.scale.lifted(sum(bounds))
    if bound < component.cost(best):
        branch = Branch(component, best, bounds, ties=False)
        branch.run(Work(BRANCH_STATES, out_of_time))
        best, bounds = branch.best.plans, branch.bounds
        bound = max(bound, component.scale.lifted(branch.bound))
    if bound < component.cost(best):
        best, closed = _closed(component, best, bounds, price, out_of_time)
        bound = max(bound, closed)
    return Weighed(component, tuple(best), component.cost(best), tuple(bounds), bound)


def _closed(
    component: Component, plans: Sequence[int], bounds: Sequence[int], price: Fraction, out_of_time: Clock
) -> tuple[list[int], int]:
    """The least plans by the integer programme on the courses that can still matter, and a proved bound."""
    slack = component.cost(plans) - sum(bounds)
    layouts = [
        still_open(part, split, own + slack, plan)
        for part, split, own, plan in zip(component.parts, component.split, bounds, plans, strict=True)
    ]
    whole = whole_of(component.problem, layouts)
    exposed = [entry for block in whole.blocks for entry in block.exposure()]
    whole.aim((1.0, whole.money()), (float(price), exposed))
    outcome = run(whole.programme, out_of_time, absolute_gap=0.4 / price.denominator)
    scale, best = component.scale, list(plans)
    if outcome.values:
        found = whole.plans(outcome.values, [part.layout for part in component.parts])
        best = min(best, found, key=component.cost)
    if outcome.infeasible:
        return best, component.cost(best)
    lost = sum(
        own.instance.lost - part.layout.instance.lost for own, part in zip(layouts, component.parts, strict=True)
    )
    proved = (
        (lowest(outcome.bound * price.denominator) + lost * price.numerator) * scale.grain if outcome.bound > 0 else 0
    )
    return best, min(proved, component.cost(best))


def exposed_of(layouts: Sequence[Layout], plans: Sequence[int]) -> int:
    """Exposure that plans leave, with what no plan avoids."""
    return sum(layout.instance.lost + exposed_by(layout, plan) for layout, plan in zip(layouts, plans, strict=True))
