"""Level of risk of each target for a group on a day, before housing, absence and findings are looked at."""

from datetime import date
from decimal import Decimal
from functools import cache
from typing import Literal

from scheduler.farm import Farm, RiskRow
from scheduler.risk import default_level
from scheduler.words import Target, two_decimals

OUTDOOR_TARGETS: frozenset[Target] = frozenset(("blowfly-strike", "head-fly", "ticks"))
"""Targets that do not reach housed sheep."""


class Levels:
    """Levels by target, group and day. A target of `only_found` has no level but where a finding stands."""

    def __init__(self, farm: Farm, only_found: frozenset[Target]) -> None:
        self._rows: dict[Target, list[RiskRow]] = {}
        for row in farm.risk:
            self._rows.setdefault(row.target, []).append(row)
        self._latitude = farm.settings.latitude
        self._only_found = only_found
        self.on = cache(self._on)

    def source(self, target: Target) -> Literal["risk.csv", "default", "findings"]:
        """Where the levels of a target come from."""
        if target in self._rows:
            return "risk.csv"
        return "findings" if target in self._only_found else "default"

    def _on(self, target: Target, group: str, day: date) -> Decimal:
        if target in self._rows:
            levels = [row.level for row in self._rows[target]
                      if row.first <= day <= row.last and (row.groups is None or group in row.groups)]  # fmt: skip
            return two_decimals(max(levels, default=Decimal(0)))
        if target in self._only_found:
            return Decimal(0)
        return default_level(target, self._latitude, day)
