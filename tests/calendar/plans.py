"""Calendars to be looked at: of the sample farms as the command writes them, and of 200 small random farms."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from scheduler.outputs import calendar_ics, plan_json
from scheduler.plan import make_plan
from scheduler.report import cautions_of, report_of
from tests.oracle.farms import FAMILIES, random_farm
from tests.outside.plans import TODAY, planned
from tests.properties.planning import farm_of, never

SMALLEST, SMALL = 12, 2
"""Farms of each family of one or two groups and some days, and of more groups and a month or two."""


@dataclass(frozen=True)
class Written:
    """A plan as other programs read it: plan.json, and the octets of its calendar."""

    name: str
    plan: dict[str, Any]
    calendar: bytes


@cache
def samples() -> tuple[Written, ...]:
    """The sample farms."""
    return tuple(Written(name, planned(name).plan, planned(name).calendar) for name in TODAY)


@cache
def random_farms() -> tuple[Written, ...]:
    """Random farms of every family."""
    return tuple(_random_farms())


def _random_farms() -> Iterator[Written]:
    for family in FAMILIES:
        for size, count in ((1, SMALLEST), (2, SMALL)):
            for seed in range(100, 100 + count):
                drawn = random_farm(seed, size, family)
                farm = farm_of(drawn.files, drawn.today)
                plan = make_plan(farm, drawn.today, None, never)
                report = report_of(plan, farm, cautions_of(plan, farm))
                name = f"{family} {size} {seed}"
                yield Written(name, json.loads(plan_json(report)), calendar_ics(report))
