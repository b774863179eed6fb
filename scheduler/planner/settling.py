"""One component settled: plans at the programme's prices, then the search over gathers, then the programme."""

from collections import Counter
from collections.abc import Callable, Sequence

from msgspec import Struct
from msgspec.structs import replace

from scheduler.planner.branch import Branch
from scheduler.planner.component import Component, Part, part_of, scale_of
from scheduler.planner.exposure import Exposure, exposed_by
from scheduler.planner.layout import Layout
from scheduler.planner.problem import Problem
from scheduler.planner.relaxation import Split, fitted, relax_at
from scheduler.planner.states import Work
from scheduler.planner.steps import Steps, stepped, stepped_from
from scheduler.planner.struck import closed
from scheduler.planner.ties import as_before, without_needless

Clock = Callable[[], bool]

BRANCH_STATES = 20_000
STEP_STATES = 60_000
"""For each cohort of a component."""
TIE_STATES = 500_000
NEAR_ROUNDS = 4
"""Rounds of price steps from a known split: where these do not prove it, a programme of all cohorts does better."""


class Settled(Struct, frozen=True):
    """A plan for each cohort, and how much less money the least could at most take.

    tied: whether it is proved to be the one that ties prefer.
    """

    plans: tuple[int, ...]
    gap: int
    tied: bool = False


class Begun(Struct, frozen=True):
    """A component with good plans and bounds; most are proved so far already."""

    layouts: Sequence[Layout]
    component: Component
    steps: Steps

    @property
    def so_far(self) -> Settled:
        """Good plans, without needless courses, and the gap that is left."""
        return Settled(_tidy(self.layouts, self.steps.plans), self.steps.gap)


def again(known: Begun, problem: Problem, layouts: Sequence[Layout]) -> Begun:
    """What was begun, for cohorts of equal content."""
    pairs = zip(known.component.parts, layouts, strict=True)
    parts = [replace(part, layout=layout, order=None) for part, layout in pairs]
    component = Component(problem, parts, known.component.scale, known.component.split)
    return Begun(layouts, component, known.steps)


def begun(problem: Problem, layouts: Sequence[Layout], exposures: Sequence[Exposure], out_of_time: Clock) -> Begun:
    """Good plans of cohorts tied by gathers, each with the exposure given."""
    work = Work(STEP_STATES * (len(layouts) + 1), out_of_time)
    steps = stepped_from(problem, layouts, exposures, scale_of(layouts), work)
    return Begun(layouts, steps.component, steps)


def begun_near(
    near: Begun, problem: Problem, layouts: Sequence[Layout], exposures: Sequence[Exposure], out_of_time: Clock
) -> Begun | None:
    """The same from the split of a group that shares cohorts with this one; None where that proves too little.

    What is new pays what the others leave of each gather.
    """
    scale = scale_of(layouts)
    if scale != near.component.scale:
        return None
    known = {id(layout.meets): place for place, layout in enumerate(near.layouts)}
    parts, plans, new = [], [], []
    split: Split = []
    for layout, own in zip(layouts, exposures, strict=True):
        place = known.get(id(layout.meets))
        if place is None:
            parts.append(part_of(layout, own, scale))
            split.append({})
            plans.append(own.plan)
            new.append(len(parts) - 1)
        else:
            parts.append(replace(near.component.parts[place], layout=layout, order=None))
            split.append(near.component.split[place])
            plans.append(near.steps.plans[place])
    paid = Counter[int]()
    for prices in split:
        paid.update(prices)
    for c in new:
        split[c] = {gather: scale.gather(problem, gather) - paid[gather] for gather in parts[c].used}
    split = fitted(problem, split, parts, scale)
    for c in new:
        relax_at(problem, parts[c], split[c], out_of_time)
    work = Work(STEP_STATES * (len(layouts) + 1), out_of_time)
    steps = stepped(Component(problem, parts, scale, split), plans, work, NEAR_ROUNDS)
    return Begun(layouts, steps.component, steps) if steps.is_least else None


def settled(begun: Begun, out_of_time: Clock, ties: bool) -> Settled:
    """The least plans of the component; ties decided within bounds of work."""
    steps = begun.steps
    plans, gap, tied = steps.plans, 0, False
    if not steps.is_least:
        plans, gap = _proved(begun.component, steps, out_of_time)
        if not gap and not out_of_time():
            steps.plans, steps.proved = list(plans), True
    if ties and not gap:
        plans, tied = _decided(begun.component, _tidy(begun.layouts, plans), steps.bounds)
    return Settled(_tidy(begun.layouts, plans), gap, tied)


def _proved(component: Component, steps: Steps, out_of_time: Clock) -> tuple[list[int], int]:
    """The least plans by the search over gathers, else by the programme; and the gap of money that is left."""
    branch = Branch(component, steps.plans, steps.bounds, ties=False)
    branch.run(Work(BRANCH_STATES, out_of_time))
    if branch.finished:
        return branch.best.plans, 0
    done = closed(component, branch.best.plans, branch.bounds, out_of_time)
    least = max(done.money, branch.bound // component.scale.money)
    return done.plans, max(0, component.cost(done.plans) // component.scale.money - least)


def _decided(component: Component, plans: Sequence[int], bounds: Sequence[int]) -> tuple[list[int], bool]:
    """Of the choices that cost as little the one that ties prefer, as far as a bound on work lets it be looked for.

    True where that was far enough.
    """
    branch = Branch(component, plans, bounds, ties=True)
    before = [_as_before(part, plan) for part, plan in zip(component.parts, plans, strict=True)]
    branch.offer(before)
    for c, again in enumerate(before):
        branch.offer([*branch.best.plans[:c], again, *branch.best.plans[c + 1 :]])
    branch.run(Work(TIE_STATES, lambda: False))
    return branch.best.plans, branch.finished


def _as_before(part: Part, plan: int) -> int:
    """The plan with the doses of the earlier one; as it is where these expose more."""
    again = as_before(part.layout.instance, plan)
    return plan if again is None or exposed_by(part.layout, again) > part.exposure.least else again


def _tidy(layouts: Sequence[Layout], plans: Sequence[int]) -> tuple[int, ...]:
    pairs = zip(layouts, plans, strict=True)
    return tuple(without_needless(layout.instance, plan) for layout, plan in pairs)
