"""What the planner answers."""

from msgspec import Struct


class Gap(Struct, frozen=True):
    """How much better the optimum could at most be; money is None unless exposure is proved."""

    exposure: int
    money: int | None


class Cost(Struct, frozen=True):
    """The objective, most important first; `moved` in days."""

    exposure: int
    money: int
    paid_gathers: int
    handlings: int
    moved: int


class Solved(Struct, frozen=True):
    """chosen[c]: the courses of cohort c, ascending. gap None: exposure and money are proved least."""

    chosen: tuple[tuple[int, ...], ...]
    cost: Cost
    gap: Gap | None


class Impossible(Struct, frozen=True):
    """The duties cannot be met together."""
