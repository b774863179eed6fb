"""The least exposure of one cohort, and a lawful plan that has it."""

from array import array
from collections.abc import Callable

from msgspec import Struct

from scheduler.planner.close import exposure_of
from scheduler.planner.layout import Layout
from scheduler.planner.potential import Potential, plain_prices, potential_of
from scheduler.planner.prices import prices_of
from scheduler.planner.relax import lowest, run
from scheduler.planner.search import least_plan
from scheduler.planner.states import GRAIN, UNBOUND, Aim, Found, Work

HASTY, NARROW, WIDE = 3, 8, 30
SEARCH_STATES = 40_000


class Exposure(Struct, frozen=True):
    """Least and lower bound of the exposure that can be avoided, a plan that has it, and the potential used."""

    least: int
    bound: int
    plan: int
    potential: Potential

    @property
    def proved(self) -> bool:
        """Whether no plan has less."""
        return self.bound >= self.least


def least_exposure(
    layout: Layout,
    costs: list[int],
    charges: list[int],
    out_of_time: Callable[[], bool],
    states: int = SEARCH_STATES,
) -> Exposure | None:
    """The least exposure of a cohort, or the least found in time; None where its duties cannot be met.

    costs and charges only choose among plans of a width-limited search. states: what the exact search may look at
    before the programme takes over.
    """
    beam = _Beam(layout, costs, charges)
    best = beam.plan(counted(layout), HASTY if out_of_time() else NARROW) or _duties_alone(layout)
    if best is None:
        return None
    if best.exposed == 0 or out_of_time():
        return Exposure(best.exposed, 0, best.plan, counted(layout))
    bound, potential = _relaxed(layout, out_of_time)
    for guide, width in ((potential, NARROW), (counted(layout), WIDE), (potential, WIDE)):
        if best.exposed > bound:
            best = min((found for found in (best, beam.plan(guide, width)) if found), key=lambda own: own.exposed)
    if best.exposed > bound:
        best, bound = _searched(layout, best, bound, potential, Work(states, out_of_time))
    if best.exposed > bound:
        return _by_programme(layout, best, bound, potential, out_of_time)
    return Exposure(best.exposed, bound, best.plan, potential)


class _Beam(Struct, frozen=True):
    """Searches of limited width: quick, lawful, not proved. Costs only choose among plans of equal exposure."""

    layout: Layout
    costs: list[int]
    charges: list[int]

    def plan(self, potential: Potential, width: int) -> Found | None:
        """A plan of little exposure."""
        aim = Aim(self.costs, self.charges, potential, plain(self.layout), width=width)
        return least_plan(self.layout, aim, Work(UNBOUND, lambda: False))


def _duties_alone(layout: Layout) -> Found | None:
    """A plan of nothing but duties; None where they cannot be met together. It is settled whatever the clock says."""
    programme, block = exposure_of(layout)
    for i, column in enumerate(block.courses):
        if not layout.owed >> i & 1:
            programme.high[column] = 0
    programme.cost = array("d", bytes(8 * len(programme.cost)))
    outcome = run(programme, lambda: False)
    if not outcome.values:
        return None
    plan = layout.instance.mask_of(block.picked(outcome.values))
    return Found(plan, exposed_by(layout, plan), 0, 0)


def priced(layout: Layout, plan: int) -> Exposure:
    """A plan to start from where exposure has a price: none is asked of it, and no potential says anything."""
    return Exposure(0, 0, plan, plain(layout))


def plain(layout: Layout) -> Potential:
    """A potential that says nothing."""
    return potential_of(layout, (0,) * len(layout.meets), (0,) * len(layout.items), plain_prices(layout, 0, 0))


def counted(layout: Layout) -> Potential:
    """The potential of exposure already taken, and nothing else."""
    return potential_of(layout, (0,) * len(layout.meets), (0,) * len(layout.items), plain_prices(layout, GRAIN, 0))


def _relaxed(layout: Layout, out_of_time: Callable[[], bool]) -> tuple[int, Potential]:
    """Bound and potential, in units of exposure, from the linear programme."""
    programme, block = exposure_of(layout, relaxed=True)
    outcome = run(programme, out_of_time, whole=False)
    if not outcome.optimal:
        return 0, counted(layout)
    prices = prices_of(block, outcome.duals, GRAIN, 1.0, 0)
    return lowest(outcome.bound), potential_of(layout, (0,) * len(layout.meets), (0,) * len(layout.items), prices)


def _searched(layout: Layout, best: Found, bound: int, potential: Potential, work: Work) -> tuple[Found, int]:
    """A better plan, or the proof that there is none, within a bounded search."""
    nothing = (0,) * len(layout.meets), (0,) * len(layout.items)
    aim = Aim(*nothing, potential, plain(layout), most_exposure=best.exposed - 1)
    found = least_plan(layout, aim, work)
    if found is not None:
        return found, found.exposed
    return best, best.exposed if work.left >= 0 else bound


def _by_programme(
    layout: Layout, best: Found, bound: int, potential: Potential, out_of_time: Callable[[], bool]
) -> Exposure:
    """By the integer programme, whole; the plan found before where that has no better."""
    programme, block = exposure_of(layout)
    outcome = run(programme, out_of_time)
    bound = max(bound, lowest(outcome.bound)) if outcome.bound > -UNBOUND else bound
    if outcome.values:
        plan = layout.instance.mask_of(block.picked(outcome.values))
        exposed = exposed_by(layout, plan)
        if exposed < best.exposed:
            return Exposure(exposed, min(bound, exposed), plan, potential)
    return Exposure(best.exposed, min(bound, best.exposed), best.plan, potential)


def exposed_by(layout: Layout, plan: int) -> int:
    """Avoidable exposure that a plan leaves."""
    return sum(weight for weight, clauses in layout.instance.needs if not all(plan & clause for clause in clauses))
