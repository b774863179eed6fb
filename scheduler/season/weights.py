"""Weight and age expected of a group on a day."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from functools import cache

from msgspec import Struct

from scheduler.facts import facts
from scheduler.farm import Farm, Group, Weighing


class Weight(Struct, frozen=True):
    """Heaviest and lightest of a group on a day, kg; None where unknown."""

    heaviest: Decimal | None
    lightest: Decimal | None


class _Reading(Struct, frozen=True):
    day: date
    kg: Decimal


class Weights:
    """Weights by group name and day: the latest weighing, carried on by growth."""

    def __init__(self, farm: Farm) -> None:
        self._groups = {group.name: group for group in farm.groups}
        self._weighings = farm.weighings
        figures = facts().figures
        self._birth = (figures.lamb_heaviest_birth_kg.value, figures.lamb_lightest_birth_kg.value)
        self._growth = (figures.heaviest_growth_factor.value, figures.lightest_growth_factor.value)
        self._heaviest = {
            name: self._readings(group, group.heaviest_kg, lambda row: row.heaviest_kg)
            for name, group in self._groups.items()
        }
        self._lightest = {
            name: self._readings(group, group.lightest_kg, lambda row: row.lightest_kg)
            for name, group in self._groups.items()
        }
        self._mean = {
            name: self._readings(group, None, lambda row: row.mean_kg) for name, group in self._groups.items()
        }
        self.on = cache(self._on)

    def mean_on(self, name: str, day: date) -> Decimal | None:
        """Mean weight of a group, kg: the latest on or before the day, carried on by its growth; None where unknown."""
        past = [row for row in self._mean[name] if row.day <= day]
        group = self._groups[name]
        return self._grown(group, past, day, Decimal(0), None, Decimal(1)) if past else None

    def _readings(
        self, group: Group, stated: Decimal | None, kg: Callable[[Weighing], Decimal | None]
    ) -> list[_Reading]:
        """All weighings of one measure in order of date; on one date weights.csv comes last and so wins."""
        rows = [] if stated is None else [_Reading(group.weighed_on or date.min, stated)]
        rows += [_Reading(row.day, value) for row in self._weighings
                 if row.group == group.name and (value := kg(row)) is not None]  # fmt: skip
        return sorted(rows, key=lambda row: row.day)

    def _on(self, name: str, day: date) -> Weight:
        group = self._groups[name]
        return Weight(
            self._grown(group, self._heaviest[name], day, self._birth[0], group.born_first, self._growth[0]),
            self._grown(
                group, self._lightest[name], day, self._birth[1], group.born_last or group.born_first, self._growth[1]
            ),
        )

    def _grown(
        self, group: Group, readings: list[_Reading], day: date, birth: Decimal, born: date | None, factor: Decimal
    ) -> Decimal | None:
        past = [row for row in readings if row.day <= day]
        if past:
            since, kg = past[-1].day, past[-1].kg
        elif group.kind == "lamb" and born is not None:
            since, kg = born, birth
        else:
            return readings[0].kg if readings else None
        grown = kg + max(0, (day - since).days) * group.growth_kg_per_day * factor
        return grown if group.grown_kg is None else max(kg, min(grown, group.grown_kg))


def age_days(group: Group, day: date) -> int | None:
    """Age of the youngest on the day, in days from born_last (absent: born_first); None where unknown."""
    born = group.born_last or group.born_first
    return None if born is None else (day - born).days
