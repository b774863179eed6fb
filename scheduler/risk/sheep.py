"""What the sheep themselves make of the level of strike: dirt, fleece and age, group by group."""

from collections.abc import Iterator
from datetime import date
from decimal import ROUND_FLOOR, Decimal
from functools import cache
from typing import TYPE_CHECKING

from msgspec import Struct

from scheduler.facts import Measure, biology
from scheduler.farm import Farm, Group, standing_dags
from scheduler.risk.outlook import STEP
from scheduler.words import Target, plus, say_day

if TYPE_CHECKING:
    from scheduler.risk.outlook import Steps


class Modifier(Struct, frozen=True):
    """Why the level of a group is not that of the place, and what that is multiplied by."""

    times: Decimal
    why: str

    @property
    def text(self) -> str:
        """As sentences say it: raised or lowered, and why."""
        return f"{'raised' if self.times > 1 else 'lowered'}, {self.why}"

    def of(self, level: Decimal) -> Decimal:
        """The level of the group where that of the place is `level`: whole steps, half up, 1 at most."""
        steps = (level * self.times / STEP + Decimal("0.5")).to_integral_value(ROUND_FLOOR)
        return min(steps * STEP, Decimal(1))

    def of_steps(self, steps: "Steps") -> "Steps":
        """The same of many levels, given and told in steps."""
        import numpy as np

        found: Steps = np.minimum(np.floor(steps * float(self.times) + 0.5 + 1e-9), 1 / float(STEP)).astype(np.int64)
        return found


class Sheep:
    """The modifiers of every group. Of several the one that raises most holds; they are never multiplied together."""

    def __init__(self, farm: Farm) -> None:
        self._farm = farm
        self._groups = {group.name: group for group in farm.groups}
        self.modifier = cache(self._modifier)

    def _modifier(self, target: Target, group: str, day: date) -> Modifier | None:
        """What holds for a group on a day; None where its level is that of the place, as for all targets but strike."""
        if target != "blowfly-strike":
            return None
        return max(self._all(self._groups[group], day), key=lambda found: found.times, default=None)

    def _all(self, group: Group, day: date) -> Iterator[Modifier]:
        sheep = biology().sheep
        dags = standing_dags(self._farm, group.name, day)
        if dags is not None:
            yield _modifier_of(sheep.dags, f"dags were found on {say_day(dags.day)}")
        if group.kind == "lamb":
            grown = group.born_first and plus(group.born_first, int(sheep.older_lamb_days.value))
            if grown is not None and grown <= day:
                yield _modifier_of(sheep.older_lamb, f"lambs over {sheep.older_lamb_days.value / 7:g} weeks old")
        elif group.wool == "wooled":
            yield from self._fleece(group.name, day)

    def _fleece(self, group: str, day: date) -> Iterator[Modifier]:
        sheep = biology().sheep
        shearings = [row.first for row in self._farm.events if row.what == "shearing" and group in row.groups]
        last = max((shorn for shorn in shearings if shorn <= day), default=None)
        coming = min((shorn for shorn in shearings if shorn > day), default=None)
        if coming is not None and (last is None or day >= plus(last, int(sheep.full_wool_days.value))):
            yield _modifier_of(sheep.full_wool, f"in full wool until shorn on {say_day(coming)}")
        is_bare = last is not None and day < plus(last, int(sheep.shorn_days.value))
        # A little-known figure must not take cover away from a keeper who asked for the cautious plan.
        if last is not None and is_bare and self._farm.settings.caution != "high":
            yield _modifier_of(sheep.shorn, f"shorn on {say_day(last)}")


def _modifier_of(figure: Measure, why: str) -> Modifier:
    return Modifier(Decimal(str(figure.value)), why)
