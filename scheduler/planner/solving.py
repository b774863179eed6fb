"""From the question to the answer: component by component, with a lawful choice before any proof."""

from collections.abc import Callable, Sequence

from scheduler.planner.answer import Cost, Gap, Impossible, Solved
from scheduler.planner.capacity import within_capacity
from scheduler.planner.exposure import Exposure, least_exposure
from scheduler.planner.instance import instance_of
from scheduler.planner.layout import Layout, layout_of
from scheduler.planner.problem import Problem
from scheduler.planner.rows import components
from scheduler.planner.score import cost_of, days_over
from scheduler.planner.settling import settled

Progress = Callable[[Cost, Gap], None]
Clock = Callable[[], bool]


def solve(problem: Problem, out_of_time: Clock, progress: Progress | None = None) -> Solved | Impossible:
    """The least choice of courses, or the word that the duties cannot be met together.

    out_of_time: asked often; once it is true the best choice so far is given, with its gap. progress: told the cost
    and the gap that is left after each component.
    """
    found = [instance_of(number, cohort) for number, cohort in enumerate(problem.cohorts)]
    layouts = [layout_of(instance) for instance in found if instance is not None]
    if len(layouts) < len(found):
        return Impossible()
    exposures: list[Exposure] = []
    for layout in layouts:
        costs = [course.cost for course in layout.instance.courses]
        least = least_exposure(layout, costs, [1] * len(layout.items), out_of_time)
        if least is None:
            return Impossible()
        exposures.append(least)
    plans, gap = _by_component(problem, layouts, exposures, out_of_time, progress)
    chosen = _chosen(layouts, plans)
    if days_over(problem, chosen):
        return within_capacity(problem, layouts, plans, out_of_time)
    return Solved(chosen, cost_of(problem, chosen), gap)


def _by_component(
    problem: Problem,
    layouts: Sequence[Layout],
    exposures: Sequence[Exposure],
    out_of_time: Clock,
    progress: Progress | None,
) -> tuple[list[int], Gap | None]:
    """A plan for each cohort, while the day capacity is not looked at; smallest component first."""
    plans = [exposure.plan for exposure in exposures]
    exposure = sum(own.least - own.bound for own in exposures)
    money = 0
    groups = components(problem, [layout.instance for layout in layouts])
    for members in sorted(groups, key=lambda own: (sum(len(one.courses) for one in own), own[0].number)):
        numbers = [member.number for member in members]
        own = settled(problem, [layouts[n] for n in numbers], [exposures[n] for n in numbers], out_of_time)
        money += own.gap
        for number, plan in zip(numbers, own.plans, strict=True):
            plans[number] = plan
        if progress is not None:
            progress(cost_of(problem, _chosen(layouts, plans)), Gap(exposure, None if exposure else money))
    if exposure:
        return plans, Gap(exposure, None)
    return plans, Gap(0, money) if money else None


def _chosen(layouts: Sequence[Layout], plans: Sequence[int]) -> tuple[tuple[int, ...], ...]:
    return tuple(layout.instance.picked(plan) for layout, plan in zip(layouts, plans, strict=True))
