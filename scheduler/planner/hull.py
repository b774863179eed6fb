"""Corners of what exposure and money can be had: the least plans at a price of exposure, remembered by their prices."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct, field
from msgspec.structs import replace

from scheduler.planner.close import Whole, whole_of
from scheduler.planner.instance import bits, instance_of
from scheduler.planner.layout import Layout, layout_of
from scheduler.planner.problem import Problem
from scheduler.planner.rows import components
from scheduler.planner.score import Chosen
from scheduler.planner.ties import without_needless
from scheduler.planner.weighing import exposed_of, weigh

Clock = Callable[[], bool]
Start = tuple[tuple[Layout, ...], tuple[int, ...]]
"""Cohorts of one component, and a lawful plan of each."""


class Corner(Struct):
    """Plans of one component that are least at every price from `low` to `high`, with their exposure and money."""

    plans: tuple[int, ...]
    exposure: int
    money: int
    low: Fraction
    high: Fraction

    def sum_at(self, price: Fraction) -> Fraction:
        """Money, and exposure at a price."""
        return self.money + price * self.exposure


class Hull(Struct):
    """The corners found of one component; `start` are lawful plans. written: its linear programme, once needed."""

    layouts: Sequence[Layout]
    start: tuple[int, ...]
    corners: list[Corner] = field(default_factory=list)
    written: Whole | None = None

    def at(self, problem: Problem, price: Fraction, out_of_time: Clock) -> tuple[int, ...] | None:
        """The least plans at a price; None where the clock ends before the proof.

        Between two corners the price is asked at which they tie: where nothing costs less there, all between is known.
        """
        while True:
            for corner in self.corners:
                if corner.low <= price <= corner.high:
                    return corner.plans
            left = max((one for one in self.corners if one.high < price), key=lambda one: one.high, default=None)
            right = min((one for one in self.corners if one.low > price), key=lambda one: one.low, default=None)
            tie = price if left is None or right is None else _tie(left, right)
            found = self._weighed(problem, tie, out_of_time)
            if found is None:
                return None
            self._add(found, left, right)

    def _weighed(self, problem: Problem, price: Fraction, out_of_time: Clock) -> Corner | None:
        """The least plans at a price, by search; None where the clock ends before the proof."""
        if self.written is None:
            self.written = whole_of(problem, self.layouts, relaxed=True)
        known = [plans for _, plans in sorted(self._known(problem, price))]
        found = weigh(problem, self.layouts, known, price, self.written, out_of_time)
        if not found.proved:
            return None
        pairs = zip(self.layouts, found.plans, strict=True)
        plans = tuple(without_needless(layout.instance, plan) for layout, plan in pairs)
        return Corner(plans, exposed_of(self.layouts, plans), self._money(problem, plans), price, price)

    def _add(self, found: Corner, left: Corner | None, right: Corner | None) -> None:
        """Keeps a corner between two neighbours, or lets these hold as far as they cost as little at its price."""
        price, least = found.low, found.sum_at(found.low)
        known = [one for one in (left, right) if one is not None and one.sum_at(price) == least]
        for one in known:
            one.low, one.high = min(one.low, price), max(one.high, price)
        if not known:
            self.corners.append(found)

    def _known(self, problem: Problem, price: Fraction) -> Iterator[tuple[Fraction, tuple[int, ...]]]:
        """Lawful plans, each after its sum at the price."""
        yield self._money(problem, self.start) + price * exposed_of(self.layouts, self.start), self.start
        yield from ((corner.sum_at(price), corner.plans) for corner in self.corners)

    def pairs(self) -> list[tuple[int, int]]:
        """Exposure and money of its corners found."""
        return [(corner.exposure, corner.money) for corner in self.corners]

    def _money(self, problem: Problem, plans: tuple[int, ...]) -> int:
        pairs = zip(self.layouts, plans, strict=True)
        courses = [layout.instance.courses[i] for layout, plan in pairs for i in bits(plan)]
        gathers = {dose.gather for course in courses for dose in course.doses}
        return sum(course.cost for course in courses) + sum(problem.gathers[gather].cost for gather in gathers)


def _tie(left: Corner, right: Corner) -> Fraction:
    """The price at which two corners cost as much."""
    return Fraction(right.money - left.money, left.exposure - right.exposure)


class Ground(Struct, frozen=True):
    """The question laid out for frontiers: its cohorts, and the hull of each component.

    tied: cohorts tied by gathers that cost or are counted, with a lawful plan of each.
    """

    problem: Problem
    layouts: tuple[Layout, ...]
    hulls: tuple[Hull, ...]
    tied: tuple[Start, ...]

    @property
    def lost(self) -> int:
        """Exposure that no choice avoids."""
        return sum(layout.instance.lost for layout in self.layouts)

    @property
    def all_open(self) -> int:
        """Exposure of a choice that meets no need."""
        return self.lost + sum(weight for layout in self.layouts for weight, _ in layout.instance.needs)

    def at(self, price: Fraction, out_of_time: Clock) -> Chosen | None:
        """The least choice where a unit of exposure costs `price`, day capacity left aside; None where not proved."""
        plans: dict[int, int] = {}
        for hull in self.hulls:
            found = hull.at(self.problem, price, out_of_time)
            if found is None:
                return None
            plans |= {layout.instance.number: plan for layout, plan in zip(hull.layouts, found, strict=True)}
        return self.chosen(plans)

    def sums(self) -> list[tuple[int, int]]:
        """Exposure and money of the corners found of each component, put together each with each: lawful choices.

        None where a day capacity stands, which such choices need not keep.
        """
        sums: list[tuple[int, int]] = [] if self.problem.capacity is not None else [(0, 0)]
        for hull in self.hulls:
            own = hull.pairs()
            grown = sorted((exposed + more, money + dearer) for exposed, money in sums for more, dearer in own)
            sums = []
            for pair in grown:
                if not sums or pair[1] < sums[-1][1]:
                    sums.append(pair)
        return sums

    def chosen(self, plans: Mapping[int, int]) -> Chosen:
        """The choice of these plans, by number of cohort."""
        return tuple(layout.instance.picked(plans[number]) for number, layout in enumerate(self.layouts))


def ground_of(problem: Problem, lawful: Chosen) -> Ground:
    """The question laid out; `lawful` is some choice that keeps every limit but the day capacity.

    A paid gather that costs nothing ties nobody: only exposure and money are weighed here.
    """
    gathers = tuple(replace(gather, paid=gather.paid and gather.cost > 0) for gather in problem.gathers)
    instances = [instance_of(number, cohort) for number, cohort in enumerate(problem.cohorts)]
    layouts = tuple(layout_of(instance) for instance in instances if instance is not None)
    hulls = (Hull(*start) for start in _started(replace(problem, gathers=gathers), layouts, lawful))
    return Ground(problem, layouts, tuple(hulls), tuple(_started(problem, layouts, lawful)))


def _started(problem: Problem, layouts: Sequence[Layout], lawful: Chosen) -> Iterator[Start]:
    """The cohorts of each component with their lawful plans."""
    for members in components(problem, [layout.instance for layout in layouts]):
        own = tuple(layouts[member.number] for member in members)
        yield own, tuple(layout.instance.mask_of(lawful[layout.instance.number]) for layout in own)
