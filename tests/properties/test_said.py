"""What random plans say of orders, labels, challenge and the record, against plan.json and the label files alone."""

import tomllib
from collections import Counter
from datetime import date, timedelta
from functools import cache
from typing import Any

import pytest

from tests.oracle.farms import random_farm
from tests.properties.planning import SMALL_SEEDS, PlanJson, as_read, plan_of

each_family = pytest.mark.parametrize("family", SMALL_SEEDS)
Read = tuple[PlanJson, dict[str, Any], dict[str, Any]]


@cache
def read(family: str) -> Read:
    """The plan of the family's farm, its farm.toml, and its labels by name."""
    drawn = random_farm(SMALL_SEEDS[family], 2, family)
    labels = {name[len("labels/") : -len(".toml")]: tomllib.loads(text) for name, text in drawn.files.items()
              if name.startswith("labels/")}  # fmt: skip
    return as_read(plan_of(drawn.files, drawn.today)), tomllib.loads(drawn.files["farm.toml"]), labels


def said(plan: PlanJson, rule: str) -> list[Any]:
    """The conflicts of one rule."""
    return [conflict for conflict in plan["conflicts"] if conflict["rule"] == rule]


def doses(plan: PlanJson, *statuses: str) -> list[Any]:
    """The doses of these statuses."""
    return [task for task in plan["tasks"] if task["kind"] == "dose" and task["status"] in statuses]


def files(plan: PlanJson, rule: str) -> list[str]:
    """The files that the conflicts of one rule stand at."""
    return sorted(conflict["where"]["file"] for conflict in said(plan, rule))


def late(plan: PlanJson) -> list[str]:
    """Labels whose last day to order is past."""
    lines = [line for line in plan["shopping"] if line["order_by"] and line["order_by"] < plan["made_for"]]
    return sorted(f"labels/{line['label']}.toml" for line in lines)


@each_family
def test_orders_that_are_late_are_those_whose_last_day_is_past(family: str) -> None:
    plan, _, _ = read(family)
    assert files(plan, "order-time") == files(plan, "stock-short") == late(plan)


def of_labels(plan: PlanJson, labels: dict[str, Any], wanted: object) -> list[str]:
    """Files of the labels of planned doses that are such: wanted(label, use) holds."""
    assert callable(wanted)
    uses = {name: {use["id"]: use for use in label["use"]} for name, label in labels.items()}
    found = {dose["label"] for dose in doses(plan, "planned")
             if wanted(labels[dose["label"]], uses[dose["label"]][dose["use"]])}  # fmt: skip
    return sorted(f"labels/{name}.toml" for name in found)


@each_family
def test_what_is_true_of_a_label_is_said_once_a_label(family: str) -> None:
    plan, farm, labels = read(family)
    organic = farm["farm"].get("organic", False)
    expected = {
        "countries-unstated": lambda label, use: "countries" not in label,
        "dry-weather": lambda label, use: bool(use.get("dry_hours")),
        "organic-prevention": lambda label, use: organic and use["purpose"] == "prevent",
        "competence": lambda label, use: label["form"] == "dip",
        "water-care": lambda label, use: label["form"] in {"dip", "pour-on", "spray-on"},
    }
    for rule, wanted in expected.items():
        assert files(plan, rule) == of_labels(plan, labels, wanted), rule


def challenged(plan: PlanJson, farm: dict[str, Any], labels: dict[str, Any]) -> list[tuple[str, str, str, str]]:
    """Doses whose last third of planning days has a day at 0.8 or more, by the runs of the plan."""
    found = set()
    for dose in doses(plan, "planned", "done"):
        use = next(use for use in labels[dose["label"]]["use"] if use["id"] == dose["use"])
        least, most = use.get("protects_days", (0, 0))
        days = {"high": least, "middle": (least + most) // 2, "low": most}[farm["plan"].get("caution", "high")]
        first = date.fromisoformat(dose["date"])
        third = {(first + timedelta(days=days - 1 - back)).isoformat() for back in range(days // 3)}
        protects = dose["protects"] or {"from": None, "to": None}
        hard = {day for day in third if protects["from"] and protects["from"] <= day <= (protects["to"] or "")}
        for run in plan["days"]:
            high = run["cohort"] == dose["cohort"] and run["target"] in dose["targets"] and run["level"] >= 0.8
            if high and any(max(run["from"], plan["made_for"]) <= day <= run["to"] for day in hard):
                found.add((dose["cohort"], dose["date"], dose["label"], dose["use"]))
    return sorted(found)


@each_family
def test_high_risk_late_in_a_protection_is_read_from_the_runs_of_the_plan(family: str) -> None:
    plan, farm, labels = read(family)
    found = {(conflict["cohort"], conflict["date"]) for conflict in said(plan, "high-challenge")}
    assert found == {(cohort, day) for cohort, day, _, _ in challenged(plan, farm, labels)}


@each_family
def test_the_record_of_the_last_dose_is_kept_for_five_years(family: str) -> None:
    plan, _, _ = read(family)
    days = [date.fromisoformat(dose["date"]) for dose in doses(plan, "planned", "done")]
    texts = [conflict["text"] for conflict in said(plan, "record-kept-until")]
    assert len(texts) == bool(days)
    assert not days or f"{max(days).day} {max(days):%b} {max(days).year + 5}" in texts[0]


def test_random_plans_have_something_to_say_of_each() -> None:
    rules = Counter(conflict["rule"] for family in SMALL_SEEDS for conflict in read(family)[0]["conflicts"])
    for rule in ("order-time", "high-challenge", "water-care", "record-kept-until"):
        assert rules[rule], rule
