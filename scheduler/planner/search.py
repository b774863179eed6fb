"""The exact search of one cohort: day by day over states, with potentials and dominance.

A state is what the days so far leave behind: courses still open, rows met, items paid, counters used. States that can
be in no better plan are dropped: by a potential, or because another state costs no more and leaves more open.
"""

from collections import defaultdict
from operator import attrgetter

from msgspec import Struct
from msgspec.structs import replace

from scheduler.planner.instance import bits
from scheduler.planner.layout import Day, Layout
from scheduler.planner.potential import Potential
from scheduler.planner.states import GRAIN, OPEN_CAP, Aim, Found, State, Used, Work
from scheduler.planner.ties import Match

COMPARED = 32
"""Comparisons of two states that take the time of looking at one."""


def least_plan(layout: Layout, aim: Aim, work: Work) -> Found | None:
    """The least lawful plan, or None where there is none within the aim or the work ran out (then work.left < 0)."""
    return Sweep(layout, aim).run(work)


class _Opened(Struct, frozen=True):
    """Items used for the first time: their charges, their penalties, and the rows that have a gather by them."""

    charge: int
    over: int
    rows: int


class Sweep:
    """One pass over the days of a cohort's courses."""

    def __init__(self, layout: Layout, aim: Aim) -> None:
        self.layout = layout
        self.aim = aim
        self.most_exposure = aim.most_exposure * GRAIN
        self.whole_plans = aim.ties is not None and aim.ties.whole_plans
        self.seen: list[dict[int, int]] = [{}, {}]
        self.gathered: dict[int, int] = {0: 0}
        self.opened: dict[int, _Opened] = {}
        self.compared = 0
        self.floors = aim.ties.floors([day.courses for day in layout.days]) if aim.ties and aim.rival else ()
        priced = sum(1 << r for r, price in enumerate(aim.cost.cover) if price)
        self.covered = [rows & priced for rows in layout.covered]
        self.kept = [~apart for apart in layout.instance.apart]

    def run(self, work: Work) -> Found | None:
        """The least plan within the aim; None where there is none, or the work ran out."""
        aim, states = self.aim, self.swept(work)
        if aim.ties:
            states = [state for state in states if aim.ties.is_whole(state.plan, state.match)]
        best = min(states, key=_order, default=None)
        if best is None or best.cost > aim.most_cost:
            return None
        return Found(best.plan, best.exposed, best.cost, best.extra)

    def swept(self, work: Work) -> list[State]:
        """The states after the last day; none where the work ran out (then work.left < 0)."""
        aim, layout = self.aim, self.layout
        used = tuple((0, OPEN_CAP) for _ in layout.last_counted)
        start = State(self._viable(), 0, used, 0, 0, 0, aim.exposure.bound, aim.cost.bound, 0)
        if aim.ties:
            start.match = aim.ties.start
        states = [start]
        for number, day in enumerate(layout.days):
            grown = self._grown(day, states)
            looked_at = len(states) + len(grown)
            states = self._closed(number, day, states + grown)
            if grown or day.closes:
                self.compared = 0
                states = self._kept(day, states)
                looked_at += self.compared // COMPARED
            if not work.spend(looked_at):
                work.left = min(work.left, -1)
                return []
            if not states:
                break
        return states

    def _viable(self) -> int:
        """Courses that are not barred, nor too dear by their own penalty."""
        aim = self.aim
        cost, exposure = aim.most_cost - aim.cost.bound, self.most_exposure - aim.exposure.bound
        dear = 0
        for i, (own, exposed) in enumerate(zip(aim.cost.take, aim.exposure.take, strict=True)):
            if own > cost or exposed > exposure:
                dear |= 1 << i
        return ((1 << len(self.layout.meets)) - 1) & ~dear & ~aim.barred

    def _grown(self, day: Day, states: list[State]) -> list[State]:
        """The states that come of taking one or more of a day's courses."""
        grown: list[State] = []
        for state in states:
            left = state.open & day.courses
            if left and day.meets & ~state.open:
                self._take_some(left, state, grown)
        return grown

    def _take_some(self, left: int, state: State, grown: list[State]) -> None:
        meets, take, most = self.layout.meets, self.aim.cost.take, self.aim.most_cost - state.cost_over
        while left:
            low = left & -left
            left ^= low
            i = low.bit_length() - 1
            if take[i] > most or not meets[i] & ~state.open:
                continue
            taken = self._taken(i, state)
            if taken is None:
                continue
            for matched in self._matched(i, taken):
                grown.append(matched)
                rest = left & matched.open
                if rest:
                    self._take_some(rest, matched, grown)

    def _taken(self, i: int, state: State) -> State | None:
        """The state with course i taken; None where a counter is overrun or it costs too much."""
        aim, layout = self.aim, self.layout
        meets = layout.meets[i]
        again = meets & state.open
        cost_over = state.cost_over + aim.cost.take[i]
        exposed_over = state.exposed_over + aim.exposure.take[i]
        if again:
            cost_over += self._again(1, aim.cost, again)
            exposed_over += self._again(0, aim.exposure, again)
        cost, hit = state.cost + aim.costs[i], state.hit
        new = layout.uses[i] & ~state.open
        if new:
            opened = self.opened.get(new) or self._opened(new)
            cost += opened.charge
            cost_over += opened.over
            if opened.rows:
                cost_over += self._gathered(opened.rows & hit)
                hit |= opened.rows
        if cost_over > aim.most_cost or exposed_over > self.most_exposure:
            return None
        used = state.used
        if layout.counted[i]:
            counted = self._counted(i, used)
            if counted is None:
                return None
            used = counted
        return State(
            (state.open | meets | new) & self.kept[i],
            hit,
            used,
            state.exposed,
            cost,
            state.extra,
            exposed_over,
            cost_over,
            state.plan | 1 << i,
            state.match,
        )

    def _opened(self, new: int) -> _Opened:
        """What comes of using these items for the first time."""
        charge = over = rows = 0
        for item in bits(new >> self.layout.first_item):
            charge += self.aim.charges[item]
            over += self.aim.cost.open[item] + self._gathered(self.covered[item] & rows)
            rows |= self.covered[item]
        self.opened[new] = _Opened(charge, over, rows)
        return self.opened[new]

    def _matched(self, i: int, taken: State) -> list[State]:
        """The state with the ties of course i; one for each way to pair its doses with the earlier plan."""
        ties = self.aim.ties
        if ties is None:
            return [taken]
        ways = ties.ways(i, taken.match)
        return [replace(taken, match=match, extra=taken.extra + extra) for match, extra in ways]

    def _again(self, which: int, potential: Potential, again: int) -> int:
        """Penalty for rows met once more."""
        again = (again >> self.layout.first_row) & potential.priced
        if not again:
            return 0
        known = self.seen[which].get(again)
        if known is None:
            known = sum(potential.row[r] for r in bits(again))
            self.seen[which][again] = known
        return known

    def _gathered(self, rows: int) -> int:
        """Penalty for rows that had a gather already."""
        if rows not in self.gathered:
            self.gathered[rows] = sum(self.aim.cost.cover[r] for r in bits(rows))
        return self.gathered[rows]

    def _counted(self, i: int, used: Used) -> Used | None:
        after = list(used)
        for c, cap in self.layout.counted[i]:
            number, least = after[c]
            after[c] = (number + 1, min(least, cap))
            if number + 1 > min(least, cap):
                return None
        return tuple(after)

    def _closed(self, number: int, day: Day, states: list[State]) -> list[State]:
        """The states within the aim, after what ends with the day."""
        for mask, most, price in self.aim.cost.unused.get(number, ()):
            for state in states:
                state.cost_over += price * max(0, most - (state.plan & mask).bit_count())
        for mask, most, price in self.aim.exposure.unused.get(number, ()):
            for state in states:
                state.exposed_over += price * max(0, most - (state.plan & mask).bit_count())
        if day.closes:
            states = [s for s in states if not day.closes & ~s.open or self._lost(day.closes & ~s.open, s)]
        most_exposure, most_cost = self.most_exposure, self.aim.most_cost
        states = [s for s in states if s.exposed_over <= most_exposure and s.cost_over <= most_cost]
        rival = self.aim.rival
        if not self.floors or rival is None:
            return states
        exposed, most_extra = (rival.exposed - 1) * GRAIN, rival.extra - self.floors[number]
        return [s for s in states if s.extra < most_extra or s.cost_over < rival.cost or s.exposed_over <= exposed]

    def _lost(self, missing: int, state: State) -> bool:
        """Takes the exposure of needs whose rows closed unmet; False where that may not be."""
        layout, aim = self.layout, self.aim
        for r in bits(missing >> layout.first_row):
            need = layout.rows[r].need
            if need < 0:
                return False
            slots = layout.slots[need]
            if state.open >> layout.first_row + r & 1:
                continue
            over, exposed_over = aim.cost.lose[need], aim.exposure.lose[need]
            if over is None or exposed_over is None:
                return False
            met = slots << layout.first_row & state.open
            if aim.unmet is None:
                state.exposed += layout.instance.needs[need][0]
            else:
                state.cost += layout.instance.needs[need][0] * aim.unmet
            state.cost_over += over + self._again(1, aim.cost, met) + self._gathered(slots & state.hit)
            state.exposed_over += exposed_over + self._again(0, aim.exposure, met)
            state.open |= slots << layout.first_row
        return True

    def _kept(self, day: Day, states: list[State]) -> list[State]:
        """States after a day, without those that another one makes needless."""
        merged: dict[tuple[object, ...], State] = {}
        for state in states:
            if day.forgets:
                state.used = self._forgotten(day, state.used)
            key = (state.open & day.after, state.used, state.match, state.plan if self.whole_plans else 0)
            known = merged.get(key)
            if known is None or _order(state) < _order(known):
                merged[key] = state
        left = list(merged.values())
        if self.aim.width is not None:
            left.sort(key=attrgetter("exposed_over", "cost_over", "exposed", "cost"))
            return left[: self.aim.width]
        return left if self.whole_plans or len(left) < 2 else self._undominated(sorted(left, key=_order), day.after)

    def _undominated(self, states: list[State], after: int) -> list[State]:
        """Of states in rising order, those that no earlier one can stand in for.

        One that could moves forward, to be met sooner.
        """
        kept: list[State] = []
        rivals: dict[Match, list[tuple[int, Used]]] = defaultdict(list)
        for state in states:
            wanted, used, others = state.open & after, state.used, rivals[state.match]
            for number, (shut, theirs) in enumerate(others):
                if not wanted & shut and no_more_used(theirs, used):
                    others[number], others[number // 2] = others[number // 2], others[number]
                    self.compared += number
                    break
            else:
                self.compared += len(others)
                others.append((after & ~state.open, used))
                kept.append(state)
        return kept

    def _forgotten(self, day: Day, used: Used) -> Used:
        return tuple((0, OPEN_CAP) if c in day.forgets else pair for c, pair in enumerate(used))


def _order(state: State) -> tuple[int, int, int]:
    return (state.exposed, state.cost, state.extra)


def no_more_used(one: Used, other: Used) -> bool:
    """Whether counters used so leave open all that the others leave open."""
    return one == other or all(a[0] <= b[0] and a[1] >= b[1] for a, b in zip(one, other, strict=True))
