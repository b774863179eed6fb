"""The best choice within a most of exposure and a most of money: cohorts' fronts joined, gathers decided one by one.

At given prices of gathers the cohorts are independent, so what their fronts have together bounds every choice; where
the plans so joined pay in full for the gathers that they use, and no day is over its capacity, they are the best. Nodes
are looked at in the order of their bounds, so the first such plans are the best of all.
"""

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from heapq import heappop, heappush

from msgspec import Struct
from msgspec.structs import replace

from scheduler.planner.exposure import counted, exposed_by
from scheduler.planner.fronts import Front, front
from scheduler.planner.hull import Ground
from scheduler.planner.instance import bits
from scheduler.planner.pricing import begun_at, scale_at
from scheduler.planner.score import Chosen, Room, cost_of, days_over
from scheduler.planner.states import UNBOUND, Aim, Work
from scheduler.planner.ties import without_needless

Clock = Callable[[], bool]
Joined = tuple[int, int, tuple[int, ...]]
"""Exposure that could be avoided, cost, and a plan for each cohort."""
Known = tuple[tuple[int, ...], tuple[int, ...]]
"""How a lawful choice rates, and its plans."""
Rating = Callable[[int, int], tuple[int, ...]]
"""What is least: of exposure and cost."""

PARTS = (1, 4, 12, 24, 36, 48, 64)
"""Of 64 parts of the room between bound and limits, so many are searched in turn."""


class Limits(Struct, frozen=True):
    """The most of avoidable exposure, of cost, and of both at the price; costs in the units of the scale."""

    exposure: int
    cost: int
    both: int


class Node(Struct, frozen=True):
    """Gathers decided, courses barred by cohort, and what each cohort can have under these decisions."""

    opened: frozenset[int]
    closed: frozenset[int]
    barred: tuple[int, ...]
    fronts: tuple[Front, ...]


class Reached(Struct, frozen=True):
    """The best choice; None where there is none, or where the clock ended the search (then not `over`).

    exposure: where least exposure was looked for, no choice within has less.
    """

    chosen: Chosen | None
    over: bool
    exposure: int


class Within:
    """The choices of at most so much exposure and money; `price` of exposure only serves the bounds."""

    def __init__(self, ground: Ground, price: Fraction, exposure: int, money: int, out_of_time: Clock) -> None:
        self.ground = ground
        self.out_of_time = out_of_time
        self.scale = scale_at(ground, price)
        self.component, self.bounds = begun_at(ground, self.scale, price, out_of_time)
        self.price = self.scale.unmet or 0
        cost = (money + 1) * self.scale.money - 1
        self.most = self.limits = Limits(exposure - ground.lost, cost, cost + self.price * (exposure - ground.lost))
        self.work = Work(UNBOUND, out_of_time)
        self.searched_all = False
        self.drawn: Callable[[int, int], Limits] = lambda exposure, cost: self.limits

    def least_sum(self) -> Reached:
        """The choice of least money and exposure at the price, then fewest paid gathers and handlings."""

        def drawn(exposure: int, cost: int) -> Limits:
            return replace(self.limits, both=cost + self.price * exposure)

        self.drawn = drawn
        return self._deepened(lambda exposure, cost: (cost + self.price * exposure, exposure))

    def least_exposure(self) -> Reached:
        """The choice of least exposure, then money, paid gathers and handlings."""

        def drawn(exposure: int, cost: int) -> Limits:
            both = min(self.limits.both, self.most.cost + self.price * exposure)
            return Limits(exposure, self.limits.cost, both)

        def rating(exposure: int, cost: int) -> tuple[int, ...]:
            return (exposure, cost)

        self.drawn = drawn
        found = self._deepened(rating)
        if found.chosen is None or self.searched_all:
            return found
        exposure = found.exposure - self.ground.lost
        self.limits = replace(self.most, exposure=exposure, both=self.most.cost + self.price * exposure)
        last = self._best(rating)
        return last if last.over else replace(last, chosen=last.chosen or found.chosen)

    def _deepened(self, rating: Rating) -> Reached:
        """The best of the choices near the bound, where there are any, else of more and more of them."""
        low = sum(self.bounds)
        for part in PARTS:
            self.limits = replace(self.most, both=low + (self.most.both - low) * part // PARTS[-1])
            self.searched_all = part == PARTS[-1]
            found = self._best(rating)
            if found.chosen is not None or not found.over:
                break
        return found

    def _best(self, rating: Rating) -> Reached:
        none = (0,) * len(self.component.parts)
        heap: list[tuple[tuple[int, ...], int, Node, Joined]] = []
        known: Known | None = None
        number = floor = 0
        children: list[Node | None] = [self._node(frozenset(), frozenset(), none, None)]
        while True:
            for child in children:
                best = None if child is None else self._joined(child, rating)
                if child is not None and best is not None:
                    number += 1
                    heappush(heap, (rating(best[0], best[1]), number, child, best))
            if self.work.left < 0 or self.out_of_time():
                return Reached(None if known is None else self._chosen(known[1]), False, self.ground.lost + floor)
            if known is not None and (not heap or known[0] <= heap[0][0]):
                return self._reached(known)
            if not heap:
                return Reached(None, True, 0)
            _, _, node, best = heappop(heap)
            known = self._better(known, best[2], rating)
            floor = best[0]
            decision = self._undecided(node, best)
            if decision is None:
                return self._reached((rating(best[0], best[1]), best[2]))
            children = decision

    def _reached(self, known: Known) -> Reached:
        chosen = self._chosen(known[1])
        return Reached(chosen, True, cost_of(self.ground.problem, chosen).exposure)

    def _better(self, known: Known | None, plans: tuple[int, ...], rating: Rating) -> Known | None:
        """The better of the choice known and these plans at what they truly cost; limits are then drawn closer."""
        exposure = sum(exposed_by(part.layout, plan) for part, plan in zip(self.component.parts, plans, strict=True))
        cost = self.component.cost(plans) - self.price * exposure
        limits = self.limits
        fits = exposure <= limits.exposure and cost <= limits.cost and cost + self.price * exposure <= limits.both
        own = rating(exposure, cost)
        if not fits or (known is not None and known[0] <= own) or days_over(self.ground.problem, self._chosen(plans)):
            return known
        self.limits = self.drawn(exposure, cost)
        return own, plans

    def _node(
        self, opened: frozenset[int], closed: frozenset[int], barred: tuple[int, ...], parent: Node | None
    ) -> Node | None:
        """The node with the front of each cohort, those of the parent where the decisions change nothing for it."""
        paid = sum(self.component.price(gather) for gather in opened)
        lows = [
            bound - sum(split.get(gather, 0) for gather in opened)
            for bound, split in zip(self.bounds, self.component.split, strict=True)
        ]
        slack = self.limits.both - paid - sum(lows)
        fronts = []
        for c, part in enumerate(self.component.parts):
            if parent is not None and not self._changed(c, parent, opened, closed, barred):
                fronts.append(parent.fronts[c])
                continue
            charges = part.charges(self.component.split[c] | dict.fromkeys(opened & part.used, 0))
            aim = Aim(
                part.costs,
                charges,
                counted(part.layout),
                part.potential(charges),
                most_exposure=self.limits.exposure,
                most_cost=lows[c] + slack,
                barred=barred[c] | part.courses_of(closed & part.used),
            )
            found = front(part.layout, aim, self.work)
            if not found:
                return None
            fronts.append(found)
        return Node(opened, closed, barred, tuple(fronts))

    def _changed(
        self, c: int, parent: Node, opened: frozenset[int], closed: frozenset[int], barred: tuple[int, ...]
    ) -> bool:
        split = self.component.split[c]
        if barred[c] != parent.barred[c] or any(split.get(gather, 0) for gather in opened - parent.opened):
            return True
        gone = closed - parent.closed
        return any(gone & self.component.parts[c].gathers(found.plan) for found in parent.fronts[c])

    def _joined(self, node: Node, rating: Rating) -> Joined | None:
        """The best that the fronts have together within the limits."""
        limits, price = self.limits, self.price
        paid = sum(self.component.price(gather) for gather in node.opened)
        least_exposed = [own[0].exposed for own in node.fronts]
        cheapest = [own[-1].cost for own in node.fronts]
        lowest = [min(found.cost + price * found.exposed for found in own) for own in node.fronts]
        rest = sum(least_exposed), sum(cheapest), sum(lowest)
        sums: list[Joined] = [(0, paid, ())]
        for own, exposed, cheap, low in zip(node.fronts, least_exposed, cheapest, lowest, strict=True):
            rest = rest[0] - exposed, rest[1] - cheap, rest[2] - low
            grown = [(e + found.exposed, m + found.cost, (*plans, found.plan)) for e, m, plans in sums for found in own]
            sums = _undominated(
                one
                for one in grown
                if one[0] + rest[0] <= limits.exposure
                and one[1] + rest[1] <= limits.cost
                and one[1] + price * one[0] + rest[2] <= limits.both
            )
        lifted = [(e, self.scale.lifted(m), plans) for e, m, plans in sums]
        return min(lifted, key=lambda one: (*rating(one[0], one[1]), one[2]), default=None)

    def _undecided(self, node: Node, best: Joined) -> list[Node | None] | None:
        """The node with one thing more decided, each way; None where its best plans stand as they are."""
        gather = self.component.least_paid(best[2], node.opened, self.scale.grain)
        if gather is not None:
            return [
                self._node(node.opened, node.closed | {gather}, node.barred, node),
                self._node(node.opened | {gather}, node.closed, node.barred, node),
            ]
        over = days_over(self.ground.problem, self._chosen(best[2]))
        return [self._without(node, c, over[0]) for c in self._dosed_on(best[2], over[0])] if over else None

    def _dosed_on(self, plans: Sequence[int], day: int) -> list[int]:
        """Places of the cohorts that take room on a day."""
        capacity = self.ground.problem.capacity
        room = None if capacity is None else Room(capacity)
        return [
            c
            for c, (part, plan) in enumerate(zip(self.component.parts, plans, strict=True))
            if any(dose.day == day for i in bits(plan) for dose in part.layout.instance.courses[i].doses)
            and room is not None
            and room.head(part.layout.instance.number, part.layout.instance.cohort.head, day)
        ]

    def _without(self, node: Node, c: int, day: int) -> Node | None:
        """The node with a cohort barred from a day."""
        courses = self.component.parts[c].layout.instance.courses
        mask = sum(1 << i for i, course in enumerate(courses) if any(dose.day == day for dose in course.doses))
        barred = (*node.barred[:c], node.barred[c] | mask, *node.barred[c + 1 :])
        return self._node(node.opened, node.closed, barred, node)

    def _chosen(self, plans: Sequence[int]) -> Chosen:
        return self.ground.chosen(
            {
                part.layout.instance.number: without_needless(part.layout.instance, plan)
                for part, plan in zip(self.component.parts, plans, strict=True)
            }
        )


def _undominated(grown: Iterable[Joined]) -> list[Joined]:
    """Those of which no other has as little exposure and as little cost."""
    best: list[Joined] = []
    for one in sorted(grown):
        if not best or one[1] < best[-1][1]:
            best.append(one)
    return best
