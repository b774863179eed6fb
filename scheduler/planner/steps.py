"""Price steps: what each cohort pays of a gather is moved until the cohorts' least plans agree on the gathers.

Lagrange's dual by subgradient steps of Polyak's length: cohorts that use a gather pay more of it, those that do not pay
less. Any split is a proved bound, so a step can only help. Use is averaged over the steps, which keeps them from going
to and fro. Sources, from memory: Polyak, Minimization of unsmooth functionals (1969), for the length; Barahona and
Anbil, The volume algorithm (2000), for the average.
"""

from collections.abc import Sequence

from msgspec import Struct, field

from scheduler.planner.close import Whole
from scheduler.planner.component import Component, Part, Scale, part_of
from scheduler.planner.exposure import Exposure
from scheduler.planner.layout import Layout
from scheduler.planner.problem import Problem
from scheduler.planner.relaxation import Split, relax, shared
from scheduler.planner.states import Work

Usage = dict[int, list[float]]
"""By gather, a number for each of its payers."""

ROUNDS = 16
PATIENCE = 2
"""Steps without a better bound before they are halved."""
WIDER = 8
"""How much wider the next search is, where there was no plan so close to the bound."""


class Steps(Struct):
    """Where the steps stand: the best plans with their cost, the best split with each cohort's bound at it.

    proved: whether something else than the bounds says that no choice costs less.
    """

    component: Component
    plans: list[int]
    upper: int
    split: Split
    bounds: list[int]
    known: list[set[int]] = field(default_factory=list)
    proved: bool = False

    @property
    def gap(self) -> int:
        """How much less money the least choice could at most take, in the unit of proof."""
        unit = self.component.scale.proof
        return 0 if self.proved else max(0, self.upper // unit - self.component.scale.lifted(sum(self.bounds)) // unit)

    @property
    def is_least(self) -> bool:
        """Whether no choice costs less, counts of gathers and handlings included."""
        return self.proved or self.upper <= self.component.scale.lifted(sum(self.bounds))

    def tell(self, plans: list[int]) -> None:
        """Keeps the plans where they are better than the best."""
        cost = self.component.cost(plans)
        if cost < self.upper:
            self.plans, self.upper = plans, cost


def stepped_from(
    problem: Problem,
    layouts: Sequence[Layout],
    starts: Sequence[Exposure],
    scale: Scale,
    work: Work,
    written: Whole | None = None,
    known: Sequence[Sequence[int]] = (),
) -> Steps:
    """Good plans of cohorts tied by gathers and a bound for each, by the linear programme and price steps.

    written: that programme, where it stands already. known: more lawful plans.
    """
    parts = [part_of(layout, start, scale) for layout, start in zip(layouts, starts, strict=True)]
    component = Component(problem, parts, scale, relax(problem, parts, scale, work.out_of_time, written))
    return stepped(component, [start.plan for start in starts], work, known=known)


def stepped(
    component: Component, plans: Sequence[int], work: Work, rounds: int = ROUNDS, known: Sequence[Sequence[int]] = ()
) -> Steps:
    """The plans and bounds after price steps; the component then has the best split."""
    steps = Steps(component, list(plans), component.cost(plans), component.split, component.bounds())
    steps.known = [set(own) for own in zip(plans, *known, strict=True)]
    split, factor, waited = component.split, 1.0, 0
    usage: Usage = {}
    for number in range(rounds):
        least = _least_plans(steps, split, work)
        if least is None:
            steps.tell(component.best_response(steps.plans, work.out_of_time))
            break
        bounds, found = [cost for _, cost in least], [plan for plan, _ in least]
        steps.tell(found)
        if steps.upper > component.scale.lifted(sum(bounds)):
            steps.tell(component.best_response(found, work.out_of_time))
        usage = _averaged(component, usage, found)
        waited += 1
        if number == 0 or sum(bounds) > sum(steps.bounds):
            steps.split, steps.bounds, waited = split, bounds, 0
        if waited == PATIENCE:
            factor, waited = factor / 2, 0
        moved = None if steps.is_least else _moved(steps, usage, factor)
        if moved is None:
            break
        split = moved
    component.split = steps.split
    return steps


def _averaged(component: Component, usage: Usage, plans: Sequence[int]) -> Usage:
    """How far each cohort has used each gather of late, from 0 to 1."""
    used = [part.gathers(plan) for part, plan in zip(component.parts, plans, strict=True)]
    return {
        gather: [
            ((gather in used[c]) + usage[gather][k]) / 2 if usage else float(gather in used[c])
            for k, c in enumerate(payers)
        ]
        for gather, payers in component.payers.items()
    }


def _least_plans(steps: Steps, split: Split, work: Work) -> list[tuple[int, int]] | None:
    """The least plan of each cohort at the split, with its cost; None where the work ran out."""
    found = []
    for part, prices, known in zip(steps.component.parts, split, steps.known, strict=True):
        least = _least_plan(part, prices, known, steps.component.scale.money, work)
        if least is None:
            return None
        known.add(least[0])
        found.append(least)
    return found


def _least_plan(part: Part, prices: dict[int, int], known: set[int], slack: int, work: Work) -> tuple[int, int] | None:
    """Looked for little over the potential's bound first, and never at or over the best plan known."""
    charges = part.charges(prices)
    cost, plan = min((part.cost(plan, charges), plan) for plan in known)
    bound = part.potential(charges).bound
    while True:
        most = min(bound + slack, cost - 1)
        found = part.least(prices, most, work) if most >= bound else None
        if work.left < 0:
            return None
        if found is not None:
            return found.plan, found.cost
        if most == cost - 1:
            return plan, cost
        slack *= WIDER


def _moved(steps: Steps, usage: Usage, factor: float) -> Split | None:
    """The best split after one step; None where the cohorts agree on all gathers."""
    component = steps.component
    ways = {gather: [own - sum(used) / len(used) for own in used] for gather, used in usage.items()}
    norm = sum(way * way for own in ways.values() for way in own)
    if not norm:
        return None
    length = factor * (steps.upper - sum(steps.bounds)) / norm
    moved = [dict(prices) for prices in steps.split]
    for gather, own in ways.items():
        payers = component.payers[gather]
        values = [moved[c].get(gather, 0) + int(length * way) for c, way in zip(payers, own, strict=True)]
        for c, value in zip(payers, shared(values, component.price(gather)), strict=True):
            moved[c][gather] = value
    return moved
