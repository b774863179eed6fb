"""What weather says of one target: levels by day, and when its season begins and ends."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from msgspec import Struct

from scheduler.farm import Caution
from scheduler.risk.spread import SHARES, by_when, level_reached
from scheduler.risk.this_year import ThisYear
from scheduler.risk.years import year_start
from scheduler.words import days_of, plus, two_decimals

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Steps = NDArray[np.int64]

STEP = Decimal("0.05")
"""Levels are given in steps of this size: finer ones would claim more than is known."""


class Dates(Struct, frozen=True):
    """The days by which one, two and a half, and four years of five had come so far; None where they never did."""

    early: date | None
    middle: date | None
    late: date | None


class Outlook(Struct, frozen=True, dict=True):
    """What weather says of one target. Levels are whole steps of STEP.

    first: first day of the season. by_year: (years, 366 days of the year of risk). planned: what the plan reckons with.
    this_year, own: how the season's own year runs, and its levels so far; None and empty where it has no weather yet.
    """

    source: Literal["weather", "normals"]
    years: tuple[int, ...]
    by_year: "Steps"
    planned: "Steps"
    this_year: ThisYear | None
    own: "Steps"
    is_south: bool

    def level(self, day: date) -> Decimal:
        """The level that the plan reckons with on a day, 0 to 1."""
        return int(self.planned[self._place(day)]) * STEP

    def level_in(self, caution: Caution, day: date) -> Decimal:
        """The level reached on a day in as many years as that caution asks for, this year's weather left aside."""
        return int(self._reached[caution][self._place(day)]) * STEP

    def level_of_year(self, year: int, day: date) -> Decimal:
        """The level that one of the years had on a day; ValueError for a year that is not among them."""
        return int(self.by_year[self.years.index(year), self._place(day)]) * STEP

    def level_so_far(self, day: date) -> Decimal | None:
        """This year's own level on a day of the season's year; None after its last day with a reading."""
        now, place = self.this_year, self._place(day)
        return int(self.own[place]) * STEP if now is not None and day <= now.through else None

    def steps_in_years(self, days: Sequence[date]) -> "Steps":
        """The levels of these days in every year, in steps, as (years, days)."""
        return self.by_year[:, [self._place(day) for day in days]]

    def begins(self, year: int, first: date, last: date, act_level: Decimal) -> date | None:
        """The first day from `first` to `last` on which the year reached the act level."""
        reached = self._at_risk(first, last, act_level)[self.years.index(year)]
        return plus(first, int(reached.argmax())) if reached.any() else None

    def starts(self, first: date, last: date, act_level: Decimal) -> Dates:
        """By when the years had begun to reach the act level, counted from the day `first` to `last`."""
        return starts_of(self._at_risk(first, last, act_level), first)

    def ends(self, first: date, last: date, act_level: Decimal) -> Dates:
        """By when the years had reached the act level for the last time, counted from the day `first` to `last`."""
        return ends_of(self._at_risk(first, last, act_level), first)

    def _at_risk(self, first: date, last: date, act_level: Decimal) -> "NDArray[np.bool_]":
        return self.steps_in_years(list(days_of(first, last))) >= least_steps(act_level)

    def _place(self, day: date) -> int:
        return (day - year_start(day, self.is_south)).days

    @cached_property
    def _reached(self) -> "dict[Caution, Steps]":
        return {caution: level_reached(self.by_year, share) for caution, share in SHARES.items()}


def starts_of(reached: "NDArray[np.bool_]", first: date) -> Dates:
    """By when the years had begun, from (years, days from `first` on) on which the act level was reached."""
    return _dates([int(year.argmax()) if year.any() else None for year in reached], first)


def ends_of(reached: "NDArray[np.bool_]", first: date) -> Dates:
    """By when the years had reached it for the last time."""
    last = reached.shape[1] - 1
    return _dates([last - int(year[::-1].argmax()) if year.any() else None for year in reached], first, True)


def _dates(days: Sequence[int | None], first: date, never_is_before: bool = False) -> Dates:
    found = [by_when(days, share, never_is_before) for share in SHARES.values()]
    early, middle, late = (None if day is None else plus(first, day) for day in found)
    return Dates(early, middle, late)


def least_steps(act_level: Decimal) -> int:
    """The fewest steps whose level reaches an act level (compared at two decimals, half up)."""
    return int(-(-two_decimals(act_level) // STEP))
