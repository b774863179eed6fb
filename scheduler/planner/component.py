"""Cohorts tied by gathers: what they cost together, and a lower bound from any split of the gathers' cost."""

from collections.abc import Callable, Mapping, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from scheduler.planner.exposure import Exposure, exposed_by
from scheduler.planner.instance import bits
from scheduler.planner.layout import Layout
from scheduler.planner.potential import Potential, Prices, plain_prices, potential_of
from scheduler.planner.problem import Problem
from scheduler.planner.score import moved_days
from scheduler.planner.search import least_plan
from scheduler.planner.states import UNBOUND, Aim, Found, Work
from scheduler.planner.ties import Ties, ties_of

BEAM = 30
HANDLING = 1024
"""Unit of a handling: prices are whole numbers, and what their rounding loses stays under one."""
KNOWN = 40
"""Most potentials kept for a cohort."""


class Scale(Struct, frozen=True):
    """Units of money, paid gathers and handlings in one whole number; every cost is a multiple of `grain`.

    proof: the unit in which a gap is told. unmet: what a unit of exposure costs, None where it is held least instead.
    """

    money: int
    paid: int
    handling: int
    grain: int
    proof: int
    unmet: int | None = None

    def lifted(self, bound: int) -> int:
        """The least cost that is not under a bound."""
        return -(-bound // self.grain) * self.grain

    def gather(self, problem: Problem, gather: int) -> int:
        """What one gather costs."""
        return problem.gathers[gather].cost * self.money + problem.gathers[gather].paid * self.paid


def scale_of(layouts: Sequence[Layout]) -> Scale:
    """Units so large that no count below can make up one of the unit above, nor what rounded prices lose."""
    handlings = sum(item.handled for layout in layouts for item in layout.items)
    gathers = len({item.gather for layout in layouts for item in layout.items})
    paid = HANDLING << (handlings + 1).bit_length()
    money = paid << (gathers + 1).bit_length()
    return Scale(money=money, paid=paid, handling=HANDLING, grain=HANDLING, proof=money)


class Part(Struct):
    """One cohort of a component: its least exposure, costs of its courses, and the prices behind its potential.

    used: the gathers that its courses use. known: its potentials at these prices.
    """

    layout: Layout
    exposure: Exposure
    scale: Scale
    costs: tuple[int, ...]
    prices: Prices
    used: frozenset[int]
    known: dict[tuple[int, ...], Potential] = field(default_factory=dict)
    order: Ties | None = None

    @property
    def ties(self) -> Ties:
        """What decides between its plans of equal cost."""
        if self.order is None:
            self.order = ties_of(self.layout.instance)
        return self.order

    def charges(self, gathers: Mapping[int, int]) -> tuple[int, ...]:
        """Charges of the items at given prices of gathers, each with its handling."""
        return tuple(
            item.handled * self.scale.handling + (gathers.get(item.gather, 0) if item.gather is not None else 0)
            for item in self.layout.items
        )

    def potential(self, charges: Sequence[int]) -> Potential:
        """The potential of cost at these charges."""
        key = tuple(charges)
        if key not in self.known:
            if len(self.known) >= KNOWN:
                self.known.clear()
            self.known[key] = potential_of(self.layout, self.costs, charges, self.prices)
        return self.known[key]

    def reprice(self, prices: Prices) -> None:
        """Takes other prices for its potentials."""
        self.prices = prices
        self.known.clear()

    def cost(self, plan: int, charges: Sequence[int]) -> int:
        """Cost of a plan at these charges."""
        items = 0
        for i in bits(plan):
            items |= self.layout.uses[i]
        own = sum(self.costs[i] for i in bits(plan)) + sum(charges[k] for k in bits(items >> self.layout.first_item))
        return own + (exposed_by(self.layout, plan) * self.scale.unmet if self.scale.unmet else 0)

    def least(
        self,
        gathers: Mapping[int, int],
        most: int,
        work: Work,
        closed: frozenset[int] = frozenset(),
        ties: bool = False,
        known: int = 0,
        bound: int = 0,
    ) -> Found | None:
        """The least plan at these prices of gathers, of cost at most `most`, without the gathers `closed`.

        ties: whether to decide between plans of equal cost; with them, known: a plan of least exposure to begin with,
        and bound: proved of the cost at these prices.
        """
        aim = replace(self._aim(gathers, closed), most_cost=most)
        if not ties:
            return least_plan(self.layout, aim, work)
        rival = Found(known, exposed_by(self.layout, known), self.cost(known, aim.charges), self.ties.extra(known))
        if rival.cost > most or known & aim.barred:
            return least_plan(self.layout, replace(aim, ties=self.ties), work)
        # Where nothing costs less than the rival, a state with no better extra is no better, whatever it costs so far.
        beaten = rival if bound < rival.cost else replace(rival, cost=0)
        found = least_plan(self.layout, replace(aim, ties=self.ties, rival=beaten), work)
        return rival if found is None and work.left >= 0 else found

    def rough(self, gathers: Mapping[int, int], most: int = UNBOUND) -> Found | None:
        """A good plan at these prices, of cost at most `most`, by a search of limited width: quick, and not proved."""
        aim = replace(self._aim(gathers, frozenset()), most_cost=most, width=BEAM)
        return least_plan(self.layout, aim, Work(UNBOUND, lambda: False))

    def _aim(self, gathers: Mapping[int, int], closed: frozenset[int]) -> Aim:
        charges = self.charges(gathers)
        return Aim(
            self.costs,
            charges,
            self.exposure.potential,
            self.potential(charges),
            most_exposure=self.exposure.least,
            barred=self.courses_of(closed),
            unmet=self.scale.unmet,
        )

    def courses_of(self, gathers: frozenset[int]) -> int:
        """Courses that use one of these gathers."""
        mask = 0
        if gathers:
            for item in self.layout.items:
                if item.gather in gathers:
                    mask |= item.courses
        return mask

    def gathers(self, plan: int) -> set[int]:
        """Gathers that a plan uses."""
        return {dose.gather for i in bits(plan) for dose in self.layout.instance.courses[i].doses}

    def moved(self, plan: int) -> int:
        """Days moved by a plan."""
        return moved_days(self.layout.instance.cohort, self.layout.instance.picked(plan))

    def ranks(self, plan: int) -> list[int]:
        """Ranks of the doses of a plan."""
        return [dose.rank for i in bits(plan) for dose in self.layout.instance.courses[i].doses]


def part_of(layout: Layout, exposure: Exposure, scale: Scale) -> Part:
    """A cohort ready for any prices; its potential says nothing yet."""
    costs = tuple(course.cost * scale.money for course in layout.instance.courses)
    used = frozenset(item.gather for item in layout.items if item.gather is not None)
    return Part(layout, exposure, scale, costs, plain_prices(layout, 0, 0), used)


class Component(Struct):
    """Cohorts tied by gathers; `split` is what each pays of each gather in lower bounds.

    payers: the places of the cohorts that could use each gather that costs anything.
    """

    problem: Problem
    parts: list[Part]
    scale: Scale
    split: list[dict[int, int]]
    payers: dict[int, list[int]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.payers = {}
        for c, part in enumerate(self.parts):
            for gather in sorted(part.used):
                if self.price(gather):
                    self.payers.setdefault(gather, []).append(c)

    def price(self, gather: int) -> int:
        """What a gather costs."""
        return self.scale.gather(self.problem, gather)

    def cost(self, plans: Sequence[int]) -> int:
        """Cost of one plan for each cohort, each gather once."""
        opened: set[int] = set()
        own = 0
        for part, plan in zip(self.parts, plans, strict=True):
            opened |= part.gathers(plan)
            own += part.cost(plan, part.charges({}))
        return own + sum(self.price(g) for g in opened)

    def bounds(self) -> list[int]:
        """A proved bound on each cohort's cost at the split, from its prices alone."""
        pairs = zip(self.parts, self.split, strict=True)
        return [part.potential(part.charges(split)).bound for part, split in pairs]

    def least_paid(self, plans: Sequence[int], opened: frozenset[int], short: int) -> int | None:
        """The gather, not one opened, for which the plans that use it pay least of its cost at the split.

        None where each lacks less than `short`; of gathers that lack as much the first.
        """
        paid: dict[int, int] = {}
        for part, split, plan in zip(self.parts, self.split, plans, strict=True):
            for gather in part.gathers(plan) - opened:
                paid[gather] = paid.get(gather, 0) + split.get(gather, 0)
        missing = {gather: self.price(gather) - own for gather, own in paid.items()}
        return max(
            (gather for gather, own in missing.items() if own >= short),
            key=lambda gather: (missing[gather], -gather),
            default=None,
        )

    def best_response(self, plans: Sequence[int], out_of_time: Callable[[], bool]) -> list[int]:
        """The plans, each cohort planned again while the gathers of the others are free, until nothing changes."""
        current = list(plans)
        own = [part.cost(plan, part.charges({})) for part, plan in zip(self.parts, current, strict=True)]
        order = sorted(range(len(current)), key=lambda c: (-own[c], c))
        still = 0
        while still < len(order) and not out_of_time():
            c = order[0]
            order = [*order[1:], c]
            part = self.parts[c]
            free = {g for k, other in enumerate(self.parts) if k != c for g in other.gathers(current[k])}
            prices = {g: 0 if g in free else self.price(g) for g in part.used}
            now = part.cost(current[c], part.charges(prices))
            found = part.rough(prices, now - 1)
            still = still + 1 if found is None else 1
            if found is not None:
                current[c] = found.plan
        return current
