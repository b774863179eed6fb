"""The linear programme of a component: prices of gathers for each cohort, and potentials for its search."""

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence

from msgspec.structs import replace

from scheduler.planner.close import Whole, whole_of
from scheduler.planner.component import Part, Scale
from scheduler.planner.prices import gather_prices, prices_of
from scheduler.planner.problem import Problem
from scheduler.planner.relax import run

Split = list[dict[int, int]]


def relax(
    problem: Problem,
    parts: Sequence[Part],
    scale: Scale,
    out_of_time: Callable[[], bool],
    written: Whole | None = None,
) -> Split:
    """Sets the prices of each part from the linear programme; what each pays of each gather, in the scale's unit.

    The sum that the cohorts pay of a gather is never over its cost. written: the programme of the parts, where it was
    written before for other prices of exposure.
    """
    if out_of_time():
        return even_split(problem, parts, scale)
    whole = written or whole_of(problem, [part.layout for part in parts], relaxed=True)
    gathers = {gather: scale.gather(problem, gather) for gather in whole.gathers}
    duals = _priced(whole, parts, scale, gathers, out_of_time)
    if not duals:
        return even_split(problem, parts, scale)
    split = [gather_prices(block, duals, scale.money) for block in whole.blocks]
    return fitted(problem, split, parts, scale)


def relax_at(problem: Problem, part: Part, split: Mapping[int, int], out_of_time: Callable[[], bool]) -> None:
    """Sets the prices of one part at what it pays of each gather; they stay as they are where that is not known."""
    whole = whole_of(problem, [part.layout], relaxed=True)
    _priced(whole, [part], part.scale, {gather: split.get(gather, 0) for gather in whole.gathers}, out_of_time)


def _priced(
    whole: Whole, parts: Sequence[Part], scale: Scale, gathers: Mapping[int, int], out_of_time: Callable[[], bool]
) -> list[float]:
    """Sets the prices of the parts where a use of each gather costs so much; the duals, none where it is not solved."""
    limited = _limit_exposure(whole, parts)
    exposed = [entry for block in whole.blocks for entry in block.exposure()]
    used = [(column, gathers[gather] / scale.money) for gather, column in whole.gathers.items()]
    handling, unmet = scale.handling / scale.money, (scale.unmet or 0) / scale.money
    whole.aim((1.0, whole.courses()), (unmet, exposed), (1.0, used), (handling, whole.handlings()))
    outcome = run(whole.programme, out_of_time, whole=False)
    if not outcome.optimal:
        return []
    for part, block, row in zip(parts, whole.blocks, limited, strict=True):
        limit = None if row is None else -outcome.duals[row]
        prices = prices_of(block, outcome.duals, scale.money, limit, part.exposure.least)
        part.reprice(prices if scale.unmet is None else replace(prices, unmet=scale.unmet, exposure=0))
    return outcome.duals


def _limit_exposure(whole: Whole, parts: Sequence[Part]) -> list[int | None]:
    """Rows that hold each cohort to its least exposure; None where every need must be met, or exposure has a price."""
    rows: list[int | None] = []
    for part, block in zip(parts, whole.blocks, strict=True):
        if part.scale.unmet is not None:
            rows.append(None)
        elif part.exposure.least == 0:
            for column in block.unmet:
                whole.programme.high[column] = 0.0
            rows.append(None)
        else:
            rows.append(whole.programme.row(block.exposure(), high=part.exposure.least))
    return rows


def even_split(problem: Problem, parts: Sequence[Part], scale: Scale) -> Split:
    """Each cohort that could use a gather pays the same part of it."""
    return fitted(problem, [{} for _ in parts], parts, scale)


def fitted(problem: Problem, split: Split, parts: Sequence[Part], scale: Scale) -> Split:
    """The split nearest to the one given in which the cohorts together pay what each gather costs, or little less."""
    payers = defaultdict(list)
    for c, part in enumerate(parts):
        for gather in sorted(part.used):
            payers[gather].append(c)
    result: Split = [{} for _ in parts]
    for gather, own in payers.items():
        paid = shared([split[c].get(gather, 0) for c in own], scale.gather(problem, gather))
        for c, price in zip(own, paid, strict=True):
            result[c][gather] = price
    return result


def shared(values: Sequence[int], total: int) -> list[int]:
    """Whole numbers >= 0 close to those given whose sum is `total`, or little less; never more."""
    if not total:
        return [0] * len(values)
    over = summed = 0
    for number, value in enumerate(sorted(values, reverse=True), 1):
        summed += value
        cut = -((total - summed) // number)
        if value > cut:
            over = cut
    nearest = [max(0, value - over) for value in values]
    excess = max(0, sum(nearest) - total)  # what was rounded up, a few at most
    for place, value in enumerate(nearest):
        cut = min(value, excess)
        nearest[place] -= cut
        excess -= cut
    return nearest
