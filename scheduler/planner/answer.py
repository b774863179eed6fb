"""What the planner answers."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Gap:
    """How much better the optimum could at most be; money is None unless exposure is proved."""

    exposure: int
    money: int | None


@dataclass(frozen=True, slots=True)
class Cost:
    """The objective, most important first; `moved` in days."""

    exposure: int
    money: int
    paid_gathers: int
    handlings: int
    moved: int


@dataclass(frozen=True, slots=True)
class Solved:
    """chosen[c]: the courses of cohort c, ascending. gap None: exposure and money are proved least."""

    chosen: tuple[tuple[int, ...], ...]
    cost: Cost
    gap: Gap | None


@dataclass(frozen=True, slots=True)
class Impossible:
    """The duties cannot be met together."""
