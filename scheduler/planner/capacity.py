"""Where the head limit of a day binds: all cohorts in one integer programme, from a choice that keeps the limit."""

from collections import defaultdict
from collections.abc import Callable, Sequence

from scheduler.planner.answer import Gap, Impossible, Solved
from scheduler.planner.close import Whole, whole_of
from scheduler.planner.instance import bits
from scheduler.planner.layout import Layout
from scheduler.planner.problem import Problem
from scheduler.planner.relax import Outcome, lowest, run
from scheduler.planner.rows import disjoint
from scheduler.planner.score import Room, cost_of, days_over
from scheduler.planner.ties import without_needless

Clock = Callable[[], bool]
Plans = list[int]
HALF = 0.5


def within_capacity(
    problem: Problem, layouts: Sequence[Layout], plans: Sequence[int], out_of_time: Clock
) -> Solved | Impossible:
    """The least choice that keeps the day capacity; `plans` is the least one that does not look at it."""
    whole = whole_of(problem, layouts)
    _limit_days(problem, layouts, whole)
    best = _thinned(problem, layouts, plans)
    if best is None:
        outcome = run(whole.programme, lambda: False)
        if not outcome.values:
            return Impossible()
        best = _plans(whole, layouts, outcome)
    exposure = [entry for block in whole.blocks for entry in block.exposure()]
    lost = sum(layout.instance.lost for layout in layouts)
    best, least_exposed = _stage(whole, layouts, [(1.0, exposure)], best, out_of_time)
    found = cost_of(problem, _chosen(layouts, best))
    gap: Gap | None = None
    if least_exposed + lost < found.exposure:
        gap = Gap(found.exposure - least_exposed - lost, None)
    else:
        whole.programme.row(exposure, high=found.exposure - lost + HALF)
        best, least_money = _stage(whole, layouts, [(1.0, whole.money())], best, out_of_time)
        found = cost_of(problem, _chosen(layouts, best))
        gap = Gap(0, found.money - least_money) if least_money < found.money else None
    if gap is None:
        whole.programme.row(whole.money(), high=found.money + HALF)
        handlings = whole.handlings()
        counts = [(float(len(handlings) + 1), whole.paid()), (1.0, handlings)]
        best, _ = _stage(whole, layouts, counts, best, lambda: False)
    tidy = [without_needless(layout.instance, plan) for layout, plan in zip(layouts, best, strict=True)]
    chosen = _chosen(layouts, tidy)
    return Solved(chosen, cost_of(problem, chosen), gap)


NODES = 20_000
"""Most nodes of a stage that proves nothing that is promised: a bound on work."""


def _stage(
    whole: Whole,
    layouts: Sequence[Layout],
    aim: Sequence[tuple[float, Sequence[tuple[int, float]]]],
    best: Plans,
    out_of_time: Clock,
) -> tuple[Plans, int]:
    """Minimises the sum of the entries: the better of the plans known and found, and a proved bound on the sum."""
    whole.aim(*aim)
    nodes = NODES if len(aim) > 1 else None
    outcome = run(whole.programme, out_of_time, nodes=nodes, start=_start(whole, layouts, best))
    bound = lowest(outcome.bound) if outcome.bound > 0 else 0
    if not outcome.values:
        return best, bound
    return _plans(whole, layouts, outcome), bound


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


def _start(whole: Whole, layouts: Sequence[Layout], plans: Sequence[int]) -> dict[int, float]:
    return {
        column: float(plan >> i & 1)
        for block, plan in zip(whole.blocks, plans, strict=True)
        for i, column in enumerate(block.courses)
    }


def _plans(whole: Whole, layouts: Sequence[Layout], outcome: Outcome) -> Plans:
    picked = whole.picked(outcome.values)
    return [layout.instance.mask_of(picked[layout.instance.number]) for layout in layouts]


def _chosen(layouts: Sequence[Layout], plans: Sequence[int]) -> tuple[tuple[int, ...], ...]:
    return tuple(layout.instance.picked(plan) for layout, plan in zip(layouts, plans, strict=True))
