"""Where the head limit of a day binds: cohorts are barred from days in turn, least answer first."""

from collections import defaultdict
from collections.abc import Callable, Sequence
from heapq import heappop, heappush

from msgspec.structs import replace

from scheduler.planner.answer import Gap, Impossible, Solved
from scheduler.planner.close import Whole, whole_of
from scheduler.planner.instance import bits, instance_of
from scheduler.planner.layout import Layout, layout_of
from scheduler.planner.problem import Problem
from scheduler.planner.relax import lowest, run
from scheduler.planner.roomy import Barred, Roomy
from scheduler.planner.rows import disjoint
from scheduler.planner.score import Room, cost_of, days_over, dose_list, handled_days
from scheduler.planner.ties import without_needless

Clock = Callable[[], bool]
Plans = list[int]
HALF = 0.5


def within_capacity(problem: Problem, roomy: Roomy, first: Solved, out_of_time: Clock) -> Solved | Impossible:
    """The least choice that keeps the day capacity; `first` is the least one that does not look at it.

    A day that is over must lose one of its cohorts: each is barred from it in turn, the least answer first, so that
    the first answer within the capacity is the least of all. Where that takes too many answers the ties are left
    aside, and at last an integer programme takes over.
    """
    for most, order in ((FULL_ANSWERS, _full_order), (QUICK_ANSWERS, _quick_order)):
        found = _barred_in_turn(problem, roomy, first, most, order, out_of_time)
        if found is not None:
            return found
    layouts = roomy.layouts()
    best = _thinned(problem, layouts, _plans_of(layouts, first)) or _duties_alone(problem, layouts)
    if best is None:
        return Impossible()
    if out_of_time():
        chosen = _chosen(layouts, best)
        answer = Solved(chosen, cost_of(problem, chosen), None)
        return replace(answer, gap=gap_to(answer, bound_of(first)))
    return _by_programme(problem, layouts, best, out_of_time)


FULL_ANSWERS = 40
QUICK_ANSWERS = 150

Order = Callable[[Problem, Solved, int], tuple[object, ...]]


def _full_order(problem: Problem, answer: Solved, bars: int) -> tuple[object, ...]:
    cost = answer.cost
    return (cost.exposure, cost.money, cost.paid_gathers, cost.handlings, cost.moved, dose_list(problem, answer.chosen))


def _quick_order(problem: Problem, answer: Solved, bars: int) -> tuple[object, ...]:
    cost = answer.cost
    return (cost.exposure, cost.money, cost.paid_gathers, cost.handlings, -bars)


def _barred_in_turn(
    problem: Problem, roomy: Roomy, first: Solved, most: int, order: Order, out_of_time: Clock
) -> Solved | Impossible | None:
    """The least answer within the capacity; None where it takes more than so many answers, or too long."""
    heap: list[tuple[tuple[object, ...], int, Barred, Solved]] = [(order(problem, first, 0), 0, frozenset(), first)]
    seen: set[Barred] = {frozenset()}
    answers, least = 0, None
    while heap:
        _, _, barred, answer = heappop(heap)
        over = days_over(problem, answer.chosen)
        if not over:
            others = [bound_of(other) for _, _, _, other in heap]
            return replace(answer, gap=gap_to(answer, min([bound_of(answer), *others])))
        for cohort in _dosed_on(problem, answer, over[0]):
            wider = barred | {(cohort, over[0])}
            if wider in seen:
                continue
            seen.add(wider)
            answers += 1
            if answers > most or out_of_time():
                return None
            child = roomy.answer(wider, least)
            if child is not None:
                if not days_over(problem, child.chosen):
                    least = child.cost.exposure if least is None else min(least, child.cost.exposure)
                heappush(heap, (order(problem, child, len(wider)), answers, wider, child))
    return Impossible()


def _dosed_on(problem: Problem, answer: Solved, day: int) -> list[int]:
    """Cohorts dosed on a day that take room on it, smallest first: to bar a small one exposes least."""
    if problem.capacity is None:
        return []
    room = Room(problem.capacity)
    dosed = [
        number
        for number, (cohort, picked) in enumerate(zip(problem.cohorts, answer.chosen, strict=True))
        if day in handled_days(cohort, picked) and room.head(number, cohort.head, day)
    ]
    return sorted(dosed, key=lambda number: (problem.cohorts[number].head, number))


def _plans_of(layouts: Sequence[Layout], answer: Solved) -> Plans:
    return [layout.instance.mask_of(picked) for layout, picked in zip(layouts, answer.chosen, strict=True)]


def bound_of(answer: Solved) -> tuple[int, int]:
    """Exposure and money that no choice of the same question beats, in this order."""
    if answer.gap is None:
        return (answer.cost.exposure, answer.cost.money)
    money = 0 if answer.gap.money is None else answer.cost.money - answer.gap.money
    return (answer.cost.exposure - answer.gap.exposure, money)


def gap_to(answer: Solved, bound: tuple[int, int]) -> Gap | None:
    """The gap between an answer and a bound on exposure and money."""
    exposure, money = answer.cost.exposure - bound[0], answer.cost.money - bound[1]
    if exposure > 0:
        return Gap(exposure, None)
    return Gap(0, money) if money > 0 else None


def _duties_alone(problem: Problem, layouts: Sequence[Layout]) -> Plans | None:
    """A choice of nothing but duties within the capacity; None where there is none, whatever the clock says."""
    found = []
    for layout in layouts:
        free = sum(1 << layout.instance.origin[i] for i in range(len(layout.meets)) if not layout.owed >> i & 1)
        found.append(instance_of(layout.instance.number, layout.instance.cohort, free))
    small = [layout_of(instance) for instance in found if instance is not None]
    if len(small) < len(layouts):
        return None
    whole = whole_of(problem, small)
    _limit_days(problem, small, whole)
    outcome = run(whole.programme, lambda: False)
    if not outcome.values:
        return None
    chosen = _chosen(small, whole.plans(outcome.values, small))
    return [layout.instance.mask_of(picked) for layout, picked in zip(layouts, chosen, strict=True)]


def _by_programme(
    problem: Problem, layouts: Sequence[Layout], plans: Sequence[int], out_of_time: Clock
) -> Solved | Impossible:
    """The least choice by one programme over all cohorts, from plans that keep the capacity."""
    whole = whole_of(problem, layouts)
    _limit_days(problem, layouts, whole)
    best = list(plans)
    exposure = [entry for block in whole.blocks for entry in block.exposure()]
    lost = sum(layout.instance.lost for layout in layouts)
    whole.aim((1.0, exposure))
    best, least_exposed = _stage(whole, layouts, 1, best, out_of_time)
    found = cost_of(problem, _chosen(layouts, best))
    gap: Gap | None = None
    if least_exposed + lost < found.exposure:
        gap = Gap(found.exposure - least_exposed - lost, None)
    else:
        whole.programme.row(exposure, high=found.exposure - lost + HALF)
        best, least_money = _stage(whole, layouts, whole.aim_cost(), best, out_of_time)
        found = cost_of(problem, _chosen(layouts, best))
        gap = Gap(0, found.money - least_money) if least_money < found.money else None
    tidy = [without_needless(layout.instance, plan) for layout, plan in zip(layouts, best, strict=True)]
    chosen = _chosen(layouts, tidy)
    return Solved(chosen, cost_of(problem, chosen), gap)


def _stage(whole: Whole, layouts: Sequence[Layout], unit: int, best: Plans, out_of_time: Clock) -> tuple[Plans, int]:
    """Minimises what the programme aims at: the plans found, else those known, and a proved bound in the unit."""
    outcome = run(whole.programme, out_of_time)
    bound = lowest(outcome.bound / unit) if outcome.bound > 0 else 0
    if not outcome.values:
        return best, bound
    return whole.plans(outcome.values, layouts), bound


def _limit_days(problem: Problem, layouts: Sequence[Layout], whole: Whole) -> None:
    """Adds, for each day on which all that could be dosed is over the capacity, a row over cohorts handled."""
    if problem.capacity is None:
        return
    room = Room(problem.capacity)
    days: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for c, layout in enumerate(layouts):
        on_day: dict[int, int] = defaultdict(int)
        for i, course in enumerate(layout.instance.courses):
            for dose in course.doses:
                on_day[dose.day] |= 1 << i
        for day, mask in on_day.items():
            days[day].append((c, mask))
    for day, users in sorted(days.items()):
        heads = [room.head(layouts[c].instance.number, layouts[c].instance.cohort.head, day) for c, _ in users]
        if sum(heads) <= room.left(day):
            continue
        entries = []
        for (c, mask), head in zip(users, heads, strict=True):
            handled = whole.programme.column(high=1)
            for clique in disjoint(mask, layouts[c].instance.apart):
                taken = [(whole.blocks[c].courses[i], 1.0) for i in bits(clique)]
                whole.programme.row([*taken, (handled, -1.0)], high=0)
            entries.append((handled, float(head)))
        whole.programme.row(entries, high=float(room.left(day)))


def _thinned(problem: Problem, layouts: Sequence[Layout], plans: Sequence[int]) -> Plans | None:
    """The plans less free courses on the days that are over, the latest cohort first; None where duties are over."""
    left = list(plans)
    owed = [0] * len(layouts)
    for c, layout in enumerate(layouts):
        for duty in layout.instance.duties:
            owed[c] |= duty
    while over := days_over(problem, _chosen(layouts, left)):
        drop = next(
            (
                (c, i)
                for c in reversed(range(len(layouts)))
                for i in bits(left[c] & ~owed[c])
                if any(dose.day == over[0] for dose in layouts[c].instance.courses[i].doses)
            ),
            None,
        )
        if drop is None:
            return None
        left[drop[0]] &= ~(1 << drop[1])
    return left


def _chosen(layouts: Sequence[Layout], plans: Sequence[int]) -> tuple[tuple[int, ...], ...]:
    return tuple(layout.instance.picked(plan) for layout, plan in zip(layouts, plans, strict=True))
