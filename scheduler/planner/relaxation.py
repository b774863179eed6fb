"""The linear programme of a component: prices of gathers for each cohort, and potentials for its search."""

from collections.abc import Callable, Sequence

from scheduler.planner.close import Whole, whole_of
from scheduler.planner.component import Part, Scale
from scheduler.planner.prices import gather_prices, prices_of
from scheduler.planner.problem import Problem
from scheduler.planner.relax import run

Split = list[dict[int, int]]


def relax(problem: Problem, parts: Sequence[Part], scale: Scale, out_of_time: Callable[[], bool]) -> Split:
    """Sets the prices of each part from the linear programme; what each pays of each gather, in the scale's unit.

    The sum that the cohorts pay of a gather is never over its cost.
    """
    if out_of_time():
        return even_split(problem, parts, scale)
    whole = whole_of(problem, [part.layout for part in parts], relaxed=True)
    limited = _limit_exposure(whole, parts)
    whole.aim((1.0, whole.money()), (scale.paid / scale.money, whole.paid()), (1 / scale.money, whole.handlings()))
    outcome = run(whole.programme, out_of_time, whole=False)
    if not outcome.optimal:
        return even_split(problem, parts, scale)
    for part, block, row in zip(parts, whole.blocks, limited, strict=True):
        unmet = None if row is None else -outcome.duals[row]
        part.reprice(prices_of(block, outcome.duals, scale.money, unmet, part.exposure.least))
    split = [gather_prices(block, outcome.duals, scale.money) for block in whole.blocks]
    return fitted(problem, split, scale)


def _limit_exposure(whole: Whole, parts: Sequence[Part]) -> list[int | None]:
    """Rows that hold each cohort to its least exposure; None where every need must be met."""
    rows: list[int | None] = []
    for part, block in zip(parts, whole.blocks, strict=True):
        if part.exposure.least == 0:
            for column in block.unmet:
                whole.programme.high[column] = 0.0
            rows.append(None)
        else:
            rows.append(whole.programme.row(block.exposure(), high=part.exposure.least))
    return rows


def even_split(problem: Problem, parts: Sequence[Part], scale: Scale) -> Split:
    """Each cohort that could use a gather pays the same part of it."""
    users: dict[int, int] = {}
    own = [{item.gather for item in part.layout.items if item.gather is not None} for part in parts]
    for gathers in own:
        for gather in gathers:
            users[gather] = users.get(gather, 0) + 1
    return [{g: scale.gather(problem, g) // users[g] for g in sorted(gathers)} for gathers in own]


def fitted(problem: Problem, split: Split, scale: Scale) -> Split:
    """The split cut down where the cohorts together would pay more than a gather costs."""
    sums: dict[int, int] = {}
    for prices in split:
        for gather, price in prices.items():
            sums[gather] = sums.get(gather, 0) + price
    result = []
    for prices in split:
        cut = {}
        for gather, price in prices.items():
            cost = scale.gather(problem, gather)
            cut[gather] = price if sums[gather] <= cost else price * cost // sums[gather]
        result.append(cut)
    return result
