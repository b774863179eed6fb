"""What proves: any split of the gathers' cost gives a bound, and what is struck is in no least choice."""

from random import Random

from scheduler.planner.component import Component, part_of, scale_of
from scheduler.planner.exposure import least_exposure
from scheduler.planner.instance import instance_of
from scheduler.planner.layout import layout_of
from scheduler.planner.problem import Problem
from scheduler.planner.relaxation import Split, relax, shared
from scheduler.planner.states import UNBOUND, Work
from scheduler.planner.steps import stepped
from scheduler.planner.struck import still_open
from tests.planner.brute import Best, best_choice
from tests.planner.tiny import Mix, tiny

MIX = Mix(courses=7)


def component_of(problem: Problem) -> Component:
    """All cohorts of a problem as one component, priced by its linear programme."""
    instances = [instance_of(number, cohort) for number, cohort in enumerate(problem.cohorts)]
    layouts = [layout_of(instance) for instance in instances if instance is not None]
    scale = scale_of(layouts)
    parts = []
    for layout in layouts:
        costs = [course.cost for course in layout.instance.courses]
        least = least_exposure(layout, costs, [1] * len(layout.items), lambda: False)
        assert least is not None
        parts.append(part_of(layout, least, scale))
    return Component(problem, parts, scale, relax(problem, parts, scale, lambda: False))


def optimum(component: Component, best: Best) -> int:
    """Money, paid gathers and handlings of the least choice in the component's one unit."""
    _, money, paid, handlings = best.four
    return money * component.scale.money + paid * component.scale.paid + handlings * component.scale.handling


def random_split(component: Component, seed: int) -> Split:
    """Each cohort pays a random part of each gather that it can use; together never over its cost."""
    draw = Random(seed)
    left = {gather: component.price(gather) for part in component.parts for gather in part.used}
    split: Split = []
    for part in component.parts:
        own = {gather: draw.choice((0, left[gather], draw.randint(0, left[gather]))) for gather in sorted(part.used)}
        for gather, paid in own.items():
            left[gather] -= paid
        split.append(own)
    return split


def test_any_split_of_the_gathers_bounds_the_least_cost() -> None:
    for seed in range(80):
        problem = tiny(seed, MIX)
        best = best_choice(problem)
        if best is None:
            continue
        component = component_of(problem)
        assert component.cost(
            [p.layout.instance.mask_of(c) for p, c in zip(component.parts, best.chosen, strict=True)]
        ) == optimum(component, best)
        for again in range(3):
            component.split = random_split(component, seed * 3 + again)
            assert sum(component.bounds()) <= optimum(component, best), seed
            least = [
                part.least(split, UNBOUND, Work(UNBOUND, lambda: False))
                for part, split in zip(component.parts, component.split, strict=True)
            ]
            assert sum(found.cost for found in least if found) <= optimum(component, best), seed
            assert all(
                found is not None and found.cost >= bound
                for found, bound in zip(least, component.bounds(), strict=True)
            ), seed


def test_a_struck_course_is_in_no_least_choice() -> None:
    struck = 0
    for seed in range(120):
        problem = tiny(seed, MIX)
        best = best_choice(problem)
        if best is None:
            continue
        component = component_of(problem)
        for own in (component.split, random_split(component, seed)):
            component.split = own
            bounds = component.bounds()
            slack = optimum(component, best) - sum(bounds)
            for part, split, bound in zip(component.parts, own, bounds, strict=True):
                left = still_open(part, split, bound + slack, 0)
                number = part.layout.instance.number
                kept = set(left.instance.origin)
                struck += len(part.layout.instance.courses) - len(kept)
                assert all(set(chosen[number]) <= kept for chosen in best.all), seed
    assert struck > 50


def test_reduction_leaves_out_no_course_of_a_least_choice() -> None:
    for seed in range(120):
        problem = tiny(seed, MIX)
        best = best_choice(problem)
        if best is None:
            continue
        for number, cohort in enumerate(problem.cohorts):
            instance = instance_of(number, cohort)
            assert instance is not None
            assert all(set(chosen[number]) <= set(instance.origin) for chosen in best.all), seed
            assert all(instance.duties)


def test_what_cohorts_share_of_a_gather_is_never_over_its_cost() -> None:
    draw = Random(5)
    for _ in range(20_000):
        total = draw.randint(0, 40)
        values = [draw.randint(-10, 30) for _ in range(draw.randint(1, 7))]
        parts = shared(values, total)
        assert min(parts) >= 0, (values, total)
        assert total - len(values) <= sum(parts) <= total, (values, total)


def test_the_bounds_after_steps_are_never_over_the_least_cost() -> None:
    for seed in range(200):
        problem = tiny(seed, MIX)
        best = best_choice(problem)
        if best is None:
            continue
        component = component_of(problem)
        plans = [part.exposure.plan for part in component.parts]
        steps = stepped(component, plans, Work(UNBOUND, lambda: False))
        assert sum(steps.bounds) <= optimum(component, best) <= steps.upper, seed
