"""Level of risk of each target for a group on a day, before housing, absence and findings are looked at."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING, Literal

from scheduler.farm import Farm, RiskRow
from scheduler.risk import Modifier, Outlook, Sheep, default_level, least_steps, weather_risk, years_text
from scheduler.words import Target, two_decimals

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

OUTDOOR_TARGETS: frozenset[Target] = frozenset(("blowfly-strike", "head-fly", "ticks"))
"""Targets that do not reach housed sheep."""

WhichWeather = int | Literal["usual"] | None
"""Which weather gives the levels: a year of the past, the usual, or None: what the plan reckons with."""

LevelSource = Literal["risk.csv", "weather", "normals", "default", "findings"]


class Levels:
    """Levels by target, group and day. A target of `only_found` has no level but where a finding stands.

    year: the year of weather whose levels hold; "usual": those that the plan would reckon with if nothing were known of
    this year; None: those that it reckons with.
    """

    def __init__(self, farm: Farm, only_found: frozenset[Target], year: WhichWeather = None) -> None:
        self._year = year
        self._caution = farm.settings.caution
        self._rows: dict[Target, list[RiskRow]] = {}
        for row in farm.risk:
            self._rows.setdefault(row.target, []).append(row)
        self._latitude = farm.settings.latitude
        self._only_found = only_found
        self.weather = weather_risk(farm)
        self._sheep = Sheep(farm)
        self.on = cache(self._on)
        self.of_place = cache(self._of_place)

    def source(self, target: Target) -> LevelSource:
        """Where the levels of a target come from."""
        if target in self._rows:
            return "risk.csv"
        if target in self._only_found:
            return "findings"
        outlook = self.outlook(target)
        return "default" if outlook is None else outlook.source

    def outlook(self, target: Target) -> Outlook | None:
        """What weather says of a target; None where its levels come from elsewhere."""
        return None if target in self._rows or target in self._only_found else self.weather.of(target)

    def modifier(self, target: Target, group: str, day: date) -> Modifier | None:
        """What the sheep themselves make of the level; None for rows of risk.csv, which are used as they stand."""
        is_own = target in self._rows or target in self._only_found
        return None if is_own else self._sheep.modifier(target, group, day)

    def said_of(self, target: Target, groups: Sequence[str], day: date) -> str:
        """What a sentence on a level of these groups adds about its origin; nothing where it is the keeper's own."""
        outlook = self.outlook(target)
        by = ""
        if outlook is not None:
            by = f", by weather of {years_text(outlook.years)}" if outlook.years else ", by monthly means"
        why: dict[str, list[str]] = {}
        for group in groups:
            found = self.modifier(target, group, day)
            if found is not None:
                why.setdefault(found.text, []).append(group)
        return by + "".join(f"; {', '.join(named)}: {text}" for text, named in why.items())

    def _on(self, target: Target, group: str, day: date) -> Decimal:
        if target in self._rows:
            levels = [row.level for row in self._rows[target]
                      if row.first <= day <= row.last and (row.groups is None or group in row.groups)]  # fmt: skip
            return two_decimals(max(levels, default=Decimal(0)))
        if target in self._only_found:
            return Decimal(0)
        modifier, level = self._sheep.modifier(target, group, day), self.of_place(target, day)
        return level if modifier is None else modifier.of(level)

    def _of_place(self, target: Target, day: date) -> Decimal:
        """The level that weather, or else the built-in table, gives the place whatever the sheep."""
        outlook = self.weather.of(target)
        if outlook is None:
            return default_level(target, self._latitude, day)
        if self._year == "usual":
            return outlook.level_in(self._caution, day)
        return outlook.level(day) if self._year is None else outlook.level_of_year(self._year, day)

    def reached_in_years(
        self, target: Target, group: str, days: Sequence[date], act_level: Decimal
    ) -> "NDArray[np.bool_]":
        """Whether the group's level reaches the act level, as (years, days); one row where no year is known."""
        import numpy as np

        outlook = self.outlook(target)
        if outlook is None:
            return np.array([[two_decimals(self.on(target, group, day)) >= two_decimals(act_level) for day in days]])
        steps = outlook.steps_in_years(days)
        for place, day in enumerate(days):
            modifier = self.modifier(target, group, day)
            if modifier is not None:
                steps[:, place] = modifier.of_steps(steps[:, place])
        return steps >= least_steps(act_level)
