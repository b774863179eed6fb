"""The exact search of one cohort for all that it can have: plans of which none has both less exposure and less cost."""

from scheduler.planner.layout import Day, Layout
from scheduler.planner.search import Sweep, no_more_used
from scheduler.planner.states import Aim, Found, State, Work

Front = tuple[Found, ...]


def front(layout: Layout, aim: Aim, work: Work) -> Front | None:
    """The undominated plans, least exposed first; None where the work ran out.

    aim: its potential of cost has a price of exposure, and its most cost is of both together; nothing else pays for
    exposure, so that both are told apart.
    """
    return _Fronts(layout, aim).all(work)


class _Fronts(Sweep):
    """A pass that keeps, of states that leave the same open, each that has less exposure or less cost."""

    def all(self, work: Work) -> Front | None:
        """The plans within the aim."""
        states = self.swept(work)
        if work.left < 0:
            return None
        best: list[State] = []
        for state in sorted(states, key=_order):
            if not best or state.exposed < best[-1].exposed:
                best.append(state)
        return tuple(Found(state.plan, state.exposed, state.cost, 0) for state in reversed(best))

    def _kept(self, day: Day, states: list[State]) -> list[State]:
        """States after a day, without those that another one makes needless; it moves forward, to be met sooner."""
        kept: list[State] = []
        if day.forgets:
            for state in states:
                state.used = self._forgotten(day, state.used)
        least: dict[tuple[object, ...], int] = {}
        for state in sorted(states, key=_order):
            wanted = state.open & day.after
            key = (wanted, state.used)
            if least.get(key, state.exposed + 1) <= state.exposed:
                continue
            least[key] = state.exposed
            for number, other in enumerate(kept):
                self.compared += 1
                if other.exposed <= state.exposed and not wanted & ~other.open and no_more_used(other.used, state.used):
                    kept[number], kept[number // 2] = kept[number // 2], other
                    break
            else:
                kept.append(state)
        return kept


def _order(state: State) -> tuple[int, int]:
    return (state.cost, state.exposed)
