"""One component settled: plans at the programme's prices, then the search over gathers, then the programme."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from scheduler.planner.branch import Branch
from scheduler.planner.component import Component, part_of, scale_of
from scheduler.planner.exposure import Exposure
from scheduler.planner.layout import Layout
from scheduler.planner.problem import Problem
from scheduler.planner.relaxation import relax
from scheduler.planner.search import Work
from scheduler.planner.struck import closed
from scheduler.planner.ties import without_needless

Clock = Callable[[], bool]

BRANCH_STATES = 80_000
LONE_STATES = 400_000
TIE_STATES = 60_000


@dataclass(frozen=True, slots=True)
class Settled:
    """A plan for each cohort, and how much less money the least could at most take."""

    plans: tuple[int, ...]
    gap: int


def settled(
    problem: Problem, layouts: Sequence[Layout], exposures: Sequence[Exposure], out_of_time: Clock, ties: bool
) -> Settled:
    """The least plans of cohorts tied by gathers, each with the exposure given; ties decided within bounds of work."""
    scale = scale_of(layouts)
    parts = [part_of(layout, own, scale) for layout, own in zip(layouts, exposures, strict=True)]
    split = relax(problem, parts, scale, out_of_time)
    component = Component(problem, parts, scale, split)
    branch = _searched(component, _good_plans(component, out_of_time), out_of_time)
    if branch.finished or (not ties and branch.bound // scale.money == branch.best.cost // scale.money):
        equal = _decided(component, branch.best.plans) if ties else branch.best.plans
        return Settled(_tidy(layouts, equal), 0)
    done = closed(component, branch.best.plans, branch.bounds, out_of_time)
    least = max(done.money, branch.bound // scale.money)
    gap = max(0, component.cost(done.plans) // scale.money - least)
    return Settled(_tidy(layouts, _decided(component, done.plans) if ties and not gap else done.plans), gap)


def _searched(component: Component, plans: Sequence[int], out_of_time: Clock) -> Branch:
    """The search: first for a choice of little more than the bound, which is often there, then for any better one."""
    near = sum(component.bounds()) + component.scale.money
    states = LONE_STATES if len(component.parts) == 1 else BRANCH_STATES
    if near < component.cost(plans):
        branch = Branch(component, plans, ties=False, most=near)
        branch.run(Work(states, out_of_time))
        if not branch.finished or branch.best.cost <= near:
            return branch
    branch = Branch(component, plans, ties=False)
    branch.run(Work(states, out_of_time))
    return branch


def _decided(component: Component, plans: Sequence[int]) -> list[int]:
    """Of the choices that cost as little the one that ties prefer, as far as a bound on work lets it be looked for."""
    branch = Branch(component, plans, ties=True)
    branch.run(Work(TIE_STATES, lambda: False))
    return branch.best.plans


def _tidy(layouts: Sequence[Layout], plans: Sequence[int]) -> tuple[int, ...]:
    pairs = zip(layouts, plans, strict=True)
    return tuple(without_needless(layout.instance, plan) for layout, plan in pairs)


def _good_plans(component: Component, out_of_time: Clock) -> list[int]:
    """Plans good at the split, after best responses; where they cost over the bound, those of least exposure too."""
    first = [part.exposure.plan for part in component.parts]
    rough = [part.rough(split) for part, split in zip(component.parts, component.split, strict=True)]
    second = [plan if found is None else found.plan for found, plan in zip(rough, first, strict=True)]
    best = component.best_response(second, out_of_time)
    if component.cost(best) <= sum(component.bounds()) + component.scale.money:
        return best
    return min((best, component.best_response(first, out_of_time)), key=component.cost)
