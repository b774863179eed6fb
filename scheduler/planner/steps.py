"""Price steps: what each cohort pays of a gather is moved until the cohorts' least plans agree on the gathers.

Lagrange's dual by subgradient steps of Polyak's length: cohorts that use a gather pay more of it, those that do not pay
less. Any split is a proved bound, so steps only ever help.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from scheduler.planner.component import Component, Part
from scheduler.planner.relaxation import Split, shared
from scheduler.planner.search import Work

ROUNDS = 12
PATIENCE = 3
"""Steps without a better bound before they are halved."""
RESPONSES = 1
"""Rounds from one best response to the next."""
WIDER = 8


@dataclass(slots=True)
class Steps:
    """Where the steps stand: the best plans with their cost, the best split with each cohort's bound at it."""

    component: Component
    plans: list[int]
    upper: int
    split: Split
    bounds: list[int]
    known: list[set[int]] = field(default_factory=list)

    @property
    def gap(self) -> int:
        """How much less money the least choice could at most take."""
        unit = self.component.scale.money
        return max(0, self.upper // unit - self.component.scale.lifted(sum(self.bounds)) // unit)

    @property
    def is_least(self) -> bool:
        """Whether no choice costs less, counts of gathers and handlings included."""
        return self.upper <= self.component.scale.lifted(sum(self.bounds))

    def tell(self, plans: list[int]) -> None:
        """Keeps the plans where they are better than the best."""
        cost = self.component.cost(plans)
        if cost < self.upper:
            self.plans, self.upper = plans, cost


def stepped(component: Component, plans: Sequence[int], work: Work) -> Steps:
    """The plans and bounds after price steps; the component then has the best split."""
    steps = Steps(component, list(plans), component.cost(plans), component.split, component.bounds())
    steps.known = [{plan} for plan in plans]
    split, factor, waited = component.split, 1.0, 0
    for number in range(ROUNDS):
        least = _least_plans(steps, split, work)
        if least is None:
            steps.tell(component.best_response(steps.plans, work.out_of_time))
            break
        bounds = [cost for _, cost in least]
        found = [plan for plan, _ in least]
        steps.tell(found)
        if not number % RESPONSES:
            steps.tell(component.best_response(found, work.out_of_time))
        waited += 1
        if number == 0 or sum(bounds) > sum(steps.bounds):
            steps.split, steps.bounds, waited = split, bounds, 0
        if steps.is_least:
            break
        if waited == PATIENCE:
            split, factor, waited = steps.split, factor / 2, 0
        length = factor * (steps.upper - sum(bounds))
        moved = _moved(component, split, found, length)
        if moved is None:
            break
        split = moved
    component.split = steps.split
    return steps


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


def _moved(component: Component, split: Split, plans: Sequence[int], length: float) -> Split | None:
    """The split after one step; None where the plans agree on all gathers."""
    used = [part.gathers(plan) for part, plan in zip(component.parts, plans, strict=True)]
    wanted: dict[int, list[tuple[int, float]]] = {}
    for gather, payers in component.payers().items():
        share = sum(gather in used[c] for c in payers) / len(payers)
        wanted[gather] = [(c, (gather in used[c]) - share) for c in payers]
    norm = sum(way * way for ways in wanted.values() for _, way in ways)
    if not norm:
        return None
    moved = [dict(prices) for prices in split]
    for gather, ways in wanted.items():
        values = [split[c].get(gather, 0) + int(length * way / norm) for c, way in ways]
        for (c, _), value in zip(ways, shared(values, component.price(gather)), strict=True):
            moved[c][gather] = value
    return moved
