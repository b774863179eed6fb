"""Farms as texts, planned in this process, and the plan as another program reads it."""

import json
from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from scheduler.farm import Farm, read_farm
from scheduler.outputs import json_text, plan_value
from scheduler.plan import EarlierPlan, Plan, make_plan

Texts = Mapping[str, str]
PlanJson = dict[str, Any]

SMALL_SEEDS = {
    "plain": 2,
    "work": 3,
    "sales": 2,
    "food": 4,
    "mobs": 2,
    "housing": 3,
    "fleece": 2,
    "lambs": 2,
    "clash": 2,
    "findings": 2,
    "record": 2,
    "history": 4,
    "wishes": 5,
    "directions": 2,
    "mixed": 3,
}
"""A small random farm of each family that is soon planned."""


def never() -> bool:
    """A clock that never runs out."""
    return False


def farm_of(files: Texts, today: date) -> Farm:
    """The farm that the texts make, which must be lawful."""
    farm = read_farm({name: text.encode() for name, text in files.items()}, today)
    assert isinstance(farm, Farm), farm
    return farm


def plan_of(
    files: Texts, today: date, earlier: EarlierPlan | None = None, out_of_time: Callable[[], bool] = never
) -> Plan:
    """The plan of the farm that the texts make."""
    return make_plan(farm_of(files, today), today, earlier, out_of_time)


def text_of(plan: Plan) -> str:
    """The text of plan.json."""
    return json_text(plan_value(plan))


def as_read(plan: Plan) -> PlanJson:
    """plan.json as another program reads it."""
    read: PlanJson = json.loads(text_of(plan))
    return read


def score_of(plan: Plan) -> tuple[int, int]:
    """Exposed sheep-days and money: what every plan is compared by first."""
    return (plan.score.exposed_sheep_days, plan.score.money_minor)
