"""The exact search of one cohort: day by day over states, with potentials, dominance and growing memory.

A state is what the days so far leave behind: rows met, courses forbidden, items paid, counters used. States that can
be in no better plan are dropped: by a potential, or because another state costs no more and leaves more open.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from operator import attrgetter

from scheduler.planner.instance import bits
from scheduler.planner.layout import Layout
from scheduler.planner.potential import Potential
from scheduler.planner.ties import Match, Ties

UNBOUND = 1 << 200
OPEN_CAP = 1 << 30
GRAIN = 1024


@dataclass(slots=True)
class Work:
    """States that may still be looked at; a bound on work that is the same on every machine."""

    left: int
    out_of_time: Callable[[], bool]

    def spend(self, states: int) -> bool:
        """Whether the work may go on."""
        self.left -= states
        return self.left >= 0 and not self.out_of_time()


@dataclass(frozen=True, slots=True)
class Aim:
    """What a search minimises: exposure, then costs and charges, then `ties` where given.

    most_exposure, most_cost: no plan over these is wanted. exposure, cost: potentials, that of exposure in GRAIN parts.
    width: most states kept after a day; the answer is then lawful, but not proved least. barred: courses left out.
    """

    costs: Sequence[int]
    charges: Sequence[int]
    exposure: Potential
    cost: Potential
    most_exposure: int = UNBOUND
    most_cost: int = UNBOUND
    width: int | None = None
    barred: int = 0
    ties: Ties | None = None


@dataclass(slots=True)
class State:
    """A state with its cost so far, its penalties, the rows that have a gather, and the courses taken."""

    met: int
    barred: int
    paid: int
    hit: int
    used: tuple[tuple[int, int], ...]
    exposed: int
    cost: int
    extra: int
    exposed_over: int
    cost_over: int
    plan: int
    match: Match = ()


@dataclass(frozen=True, slots=True)
class Found:
    """The least plan (mask), its exposure that could be avoided, and its cost."""

    plan: int
    exposed: int
    cost: int
    extra: int


def least_plan(layout: Layout, aim: Aim, work: Work) -> Found | None:
    """The least lawful plan, or None where there is none within the aim or the work ran out (then work.left < 0)."""
    return _Sweep(layout, aim).run(work)


class _Sweep:
    """One pass over the courses of a cohort in order of first day."""

    def __init__(self, layout: Layout, aim: Aim) -> None:
        self.layout = layout
        self.aim = aim
        self.most_exposure = aim.most_exposure * GRAIN
        self.apart = layout.instance.apart
        self.whole_plans = aim.ties is not None and aim.ties.whole_plans
        self.seen: list[dict[int, int]] = [{}, {}]
        self.swept = -1
        self.gathered: dict[int, int] = {0: 0}
        priced = sum(1 << r for r, price in enumerate(aim.cost.cover) if price)
        self.covered = [rows & priced for rows in layout.covered]

    def run(self, work: Work) -> Found | None:
        used = tuple((0, OPEN_CAP) for _ in self.layout.last_counted)
        states = [State(0, 0, 0, 0, used, 0, 0, 0, self.aim.exposure.bound, self.aim.cost.bound, 0)]
        states[0].barred = self.aim.barred
        if self.aim.ties:
            states[0].match = self.aim.ties.start
        for i in range(len(self.layout.meets)):
            if not work.spend(len(states)):
                work.left = min(work.left, -1)
                return None
            states = self._pass(i, states)
            if self.layout.ends[i]:
                states = self._kept(i, states)
            if not states:
                return None
        if self.aim.ties:
            states = [state for state in states if self.aim.ties.is_whole(state.plan, state.match)]
        best = min(states, key=_order, default=None)
        if best is None or best.cost > self.aim.most_cost:
            return None
        return Found(best.plan, best.exposed, best.cost, best.extra)

    def _pass(self, i: int, states: list[State]) -> list[State]:
        """States after the choice about course i, and after what closes with it."""
        bit, meets = 1 << i, self.layout.meets[i]
        after = []
        for state in states:
            if not state.barred & bit and meets & ~state.met:
                taken = self._taken(i, state)
                if taken is not None:
                    after += self._matched(i, taken)
            skip = self.aim.cost.skip[i]
            if skip:
                state.cost_over += skip
            state.exposed_over += self.aim.exposure.skip[i]
            after.append(state)
        for k, potential in enumerate((self.aim.exposure, self.aim.cost)):
            if potential.closing[i] or potential.shut[i]:
                _close_limits(i, k, potential, after)
        closing = self.layout.closes[i]
        if closing:
            after = [state for state in after if not closing & ~state.met or self._lost(closing & ~state.met, state)]
        most_exposure, most_cost = self.most_exposure, self.aim.most_cost
        return [s for s in after if s.exposed_over <= most_exposure and s.cost_over <= most_cost]

    def _taken(self, i: int, state: State) -> State | None:
        """The state with course i taken; None where a counter is overrun or it costs too much."""
        aim, layout = self.aim, self.layout
        again = layout.meets[i] & state.met
        cost_over = state.cost_over + aim.cost.take[i]
        exposed_over = state.exposed_over + aim.exposure.take[i]
        if again:
            cost_over += self._again(1, aim.cost, again)
            exposed_over += self._again(0, aim.exposure, again)
        cost = state.cost + aim.costs[i]
        new = layout.uses[i] & ~state.paid
        hit = state.hit
        for item in bits(new):
            cost += aim.charges[item]
            cost_over += aim.cost.open[item] + self._gathered(self.covered[item] & hit)
            hit |= self.covered[item]
        if cost_over > aim.most_cost or exposed_over > self.most_exposure:
            return None
        used = state.used
        if layout.counted[i]:
            counted = self._counted(i, used)
            if counted is None:
                return None
            used = counted
        return State(
            state.met | layout.meets[i],
            state.barred | self.apart[i],
            state.paid | new,
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

    def _matched(self, i: int, taken: State) -> list[State]:
        """The state with the ties of course i; one for each way to pair its doses with the earlier plan."""
        ties = self.aim.ties
        if ties is None:
            return [taken]
        ways = ties.ways(i, taken.match)
        return [replace(taken, match=match, extra=taken.extra + extra) for match, extra in ways]

    def _again(self, which: int, potential: Potential, again: int) -> int:
        """Penalty for rows met once more."""
        again &= potential.priced
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

    def _counted(self, i: int, used: tuple[tuple[int, int], ...]) -> tuple[tuple[int, int], ...] | None:
        after = list(used)
        for c, cap in self.layout.counted[i]:
            number, least = after[c]
            after[c] = (number + 1, min(least, cap))
            if number + 1 > min(least, cap):
                return None
        return tuple(after)

    def _lost(self, missing: int, state: State) -> bool:
        """Takes the exposure of needs whose rows closed unmet; False where that may not be."""
        layout, aim = self.layout, self.aim
        for r in bits(missing):
            need = layout.rows[r].need
            if need < 0:
                return False
            if state.met >> r & 1:
                continue
            over, exposed_over = aim.cost.lose[need], aim.exposure.lose[need]
            if over is None or exposed_over is None:
                return False
            slots = layout.slots[need]
            state.exposed += layout.instance.needs[need][0]
            state.cost_over += over + self._again(1, aim.cost, slots & state.met) + self._gathered(slots & state.hit)
            state.exposed_over += exposed_over + self._again(0, aim.exposure, slots & state.met)
            state.met |= slots
        return True

    def _kept(self, i: int, states: list[State]) -> list[State]:
        """States of a finished day, without those that another one makes needless."""
        later = -1 << (i + 1)
        rows, items = self.layout.rows_after[i], self.layout.items_after[i]
        forgets = any(self.swept < last <= i for last in self.layout.last_counted)
        self.swept = i
        merged: dict[tuple[object, ...], State] = {}
        for state in states:
            state.barred &= later
            state.paid &= items
            if forgets:
                state.used = self._forgotten(i, state.used)
            history = state.plan if self.whole_plans else 0
            key = (state.met & rows, state.barred, state.paid, state.used, state.match, history)
            known = merged.get(key)
            if known is None or _order(state) < _order(known):
                merged[key] = state
        left = sorted(merged.values(), key=_order)
        if self.aim.width is not None:
            left.sort(key=attrgetter("exposed_over", "cost_over"))
            return left[: self.aim.width]
        return left if self.whole_plans or len(left) < 2 else self._undominated(left, rows)

    def _forgotten(self, i: int, used: tuple[tuple[int, int], ...]) -> tuple[tuple[int, int], ...]:
        last = self.layout.last_counted
        return tuple((0, OPEN_CAP) if last[c] <= i else pair for c, pair in enumerate(used))

    def _undominated(self, states: list[State], rows: int) -> list[State]:
        """Of states in rising order, those that no earlier one can stand in for."""
        kept: list[State] = []
        for state in states:
            wanted, barred, paid = state.met & rows, ~state.barred, state.paid
            for other in kept:
                if other.barred & barred or wanted & ~other.met or paid & ~other.paid:
                    continue
                if other.match == state.match and _no_more_used(other.used, state.used):
                    break
            else:
                kept.append(state)
        return kept


def _order(state: State) -> tuple[int, int, int]:
    return (state.exposed, state.cost, state.extra)


def _no_more_used(one: tuple[tuple[int, int], ...], other: tuple[tuple[int, int], ...]) -> bool:
    return all(a[0] <= b[0] and a[1] >= b[1] for a, b in zip(one, other, strict=True))


def _close_limits(i: int, which: int, potential: Potential, states: list[State]) -> None:
    """Adds the penalties of limits not used up and items not used, whose last course is i."""
    for state in states:
        over = 0
        for mask, most, price in potential.closing[i]:
            over += price * max(0, most - (state.plan & mask).bit_count())
        for mask, price in potential.shut[i]:
            if not state.plan & mask:
                over += price
        if which:
            state.cost_over += over
        else:
            state.exposed_over += over
