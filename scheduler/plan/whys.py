"""Why a task stands where it does, as values: its bounds, its room to move, what it buys, and the other labels."""

from datetime import date

from msgspec import Struct

from scheduler.words import Where


class Change(Struct, frozen=True):
    """What another plan has more than this one: exposed sheep-days, money in minor units, handlings."""

    exposed_sheep_days: int
    money_minor: int
    handlings: int


class NextBest(Struct, frozen=True):
    """The best plan that keeps a dose off its day: the day it moves to, None where it falls away; what it changes."""

    day: date | None
    change: Change


class Bound(Struct, frozen=True):
    """The first or last day of a task, and what sets it; `rule` is None where a table of the keeper does."""

    day: date
    rule: str | None
    text: str


class Later(Struct, frozen=True):
    """What it costs to give a dose on a later day, all else as planned: exposed sheep-days, minor units."""

    day: date
    exposed_sheep_days: int
    money_minor: int


class Slip(Struct, frozen=True):
    """How a dose may slip, all else as planned. free_to: the last day that costs nothing, its own where none does.

    then: the next lawful days, with what each costs; none where no lawful day follows.
    """

    free_to: date
    then: tuple[Later, ...]


class OtherUse(Struct, frozen=True, kw_only=True):
    """Another use against a target of a dose, on its day, all else as planned.

    rule, text: the rule that forbids it, and how; else None, with what it changes. name, confirmed: of the label.
    """

    label: str
    name: str
    confirmed: bool
    use: str
    rule: str | None = None
    text: str = ""
    exposed_sheep_days: int = 0
    money_minor: int = 0


class Ground(Struct, frozen=True):
    """A reason of a task: the rule, None where a table of the keeper sets it; the sentence; the place it rests on."""

    rule: str | None
    text: str
    where: Where | None = None


class Why(Struct, frozen=True, kw_only=True):
    """Why the task of this uid stands where it does; None and empty where not meant, or not reckoned.

    others: where the task is a dose that another label might give; None where no other may.
    """

    uid: str
    because: tuple[Ground, ...]
    earliest: Bound | None = None
    latest: Bound | None = None
    slip: Slip | None = None
    others: tuple[OtherUse, ...] | None = None
    next_best: NextBest | None = None
    buys: Change | None = None
