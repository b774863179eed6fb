"""The risk of each target over the season as outputs show it."""

from datetime import date
from decimal import Decimal
from typing import Literal

from msgspec import Struct

from scheduler.plan import Move
from scheduler.risk import Dates, ThisYear
from scheduler.season import LevelSource
from scheduler.words import Target


class RiskRun(Struct, frozen=True):
    """Days of one level, both ends included, for the groups named in the order of their table."""

    groups: tuple[str, ...]
    first: date
    last: date
    level: Decimal


class Modified(Struct, frozen=True):
    """Days, both ends included, on which the level of these groups is that of the place times `times`, and why."""

    groups: tuple[str, ...]
    first: date
    last: date
    times: Decimal
    why: str


class RiskDay(Struct, frozen=True):
    """A day's level in the plan, and that reached in 1 year of 5, in the median year and in 4 years of 5.

    own: this year's own level; None on days after its last reading.
    """

    day: date
    planned: Decimal
    high: Decimal
    middle: Decimal
    low: Decimal
    own: Decimal | None


class TargetRisk(Struct, frozen=True, kw_only=True):
    """One target. runs: levels before housing, absence and findings; they fill the season for every group.

    starts, ends: of the years of weather; without years all three are the one day of the levels. years: first and last,
    None where the levels are not of years. days: levels of every day of the season, empty where no spread is known.
    """

    target: Target
    source: LevelSource
    act_level: Decimal
    years: tuple[int, int] | None
    starts: Dates
    ends: Dates
    this_year: ThisYear | None
    runs: tuple[RiskRun, ...]
    days: tuple[RiskDay, ...]
    modified: tuple[Modified, ...]


class RiskReport(Struct, frozen=True, kw_only=True):
    """The farm's targets in the order of the shared list. notes, cautions: whole sentences. end: last day.

    moves: what this year's weather moves in the plan; None where it could not be reckoned in time.
    """

    farm: str
    made_for: date
    start: date
    end: date
    caution: Literal["high", "middle", "low"]
    targets: tuple[TargetRisk, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    moves: tuple[Move, ...] | None = ()
