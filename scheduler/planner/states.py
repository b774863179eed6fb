"""What a search of one cohort is asked, what it keeps of a day, and what it finds."""

from collections.abc import Callable, Sequence

from msgspec import Struct

from scheduler.planner.potential import Potential
from scheduler.planner.ties import Match, Ties

UNBOUND = 1 << 200
OPEN_CAP = 1 << 30
GRAIN = 1024

Used = tuple[tuple[int, int], ...]
"""By counter, how many of its courses are taken, and the least cap among them."""


class Work(Struct):
    """States that may still be looked at; a bound on work that is the same on every machine."""

    left: int
    out_of_time: Callable[[], bool]

    def spend(self, states: int) -> bool:
        """Whether the work may go on."""
        self.left -= states
        return self.left >= 0 and not self.out_of_time()


class Aim(Struct, frozen=True):
    """What a search minimises: exposure, then costs and charges, then `ties` where given.

    most_exposure, most_cost: no plan over these is wanted. exposure, cost: potentials, that of exposure in GRAIN parts.
    width: most states kept after a day; the answer is then lawful, but not proved least. barred: courses left out.
    unmet: where given, a unit of exposure is paid at this price in the cost, and not minimised for itself.
    rival: a plan known within the aim, with its extra; beside ties, only what is better is wanted.
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
    unmet: int | None = None
    rival: "Found | None" = None


class State(Struct):
    """What the days so far leave behind, with its cost so far, its penalties, and the courses taken.

    open: one mask of courses that may still be taken, rows met and items paid for, as in Layout: the more ones, the
    better. hit: rows that have a gather.
    """

    open: int
    hit: int
    used: Used
    exposed: int
    cost: int
    extra: int
    exposed_over: int
    cost_over: int
    plan: int
    match: Match = ()


class Found(Struct, frozen=True):
    """The least plan (mask), its exposure that could be avoided, and its cost."""

    plan: int
    exposed: int
    cost: int
    extra: int
