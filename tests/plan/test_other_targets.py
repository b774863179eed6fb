"""Ticks, head fly, lice and scab are planned as fully as strike: small farms, and what their plans do.

Seasons: ticks in two waves (Milne 1945, Parasitology, abstract), head flies from June, most in July (Tarry and Kirkwood
1976, Bulletin of Entomological Research, abstract). That every sheep of a mob is treated for lice or scab on one day,
and head-fly cover stands before the flies: common practice, no source.
"""

import tomllib
from datetime import date
from decimal import Decimal
from typing import Any

from scheduler.plan import Plan, Task, make_plan
from scheduler.rules.case_farm import Content, farm_of, merged
from scheduler.words import package_text

BASE = tomllib.loads(package_text("scheduler.rules", "cases/base.toml"), parse_float=Decimal)
FARM: Content = merged(
    {key: BASE[key] for key in ("farm", "groups", "labels")}, {"labels": {"bare": {"checked": date(2027, 2, 1)}}}
)
INJECTION = {
    "name": "Demo injection (invented)", "active": "ivermectin", "chemical_group": "macrocyclic lactone",
    "form": "injection", "checked": date(2027, 2, 1), "countries": ["GB"], "withdrawal": {"meat": 42},
    "pack": [{"ml": 500, "price": 30}],
    "uses": {"mites": {
        "purpose": "treat", "targets": ["scab"], "dose": [{"ml_per_kg": Decimal("0.02"), "step_ml": Decimal("0.1")}],
        "repeat": [{"after_days": 7, "ml": 2}],
    }},
}  # fmt: skip


def planned(today: date, **changed: Any) -> Plan:
    """The plan of the farm of the cases, changed, with the days at risk stated."""
    return make_plan(farm_of(merged(FARM, changed), today), today, None, lambda: False)


def doses(plan: Plan, **wanted: object) -> list[Task]:
    """Its doses that are such."""
    found = [task for task in plan.tasks if task.kind == "dose"]
    return [task for task in found if all(getattr(task, name) == value for name, value in wanted.items())]


def risk(target: str, first: date, last: date, **changed: Any) -> dict[str, Any]:
    """A row of risk.csv."""
    return {"target": target, "from": first, "to": last, "level": Decimal("0.7")} | changed


def settings(*targets: str) -> dict[str, Any]:
    """Sections of farm.toml for these targets."""
    return {"plan": {"targets": list(targets)}}


def test_both_waves_of_ticks_are_covered_and_turnout_falls_under_cover() -> None:
    waves = [risk("ticks", date(2027, 4, 10), date(2027, 6, 10), groups="Ewes"),
             risk("ticks", date(2027, 9, 5), date(2027, 10, 10), groups="Ewes")]  # fmt: skip
    turnout = [{"date": date(2027, 4, 24), "what": "turnout", "groups": "Ewes"}]
    plan = planned(date(2027, 3, 1), farm=settings("ticks"), risk=waves, events=turnout)
    assert plan.score.exposed_sheep_days == 0
    days = [task.day for task in doses(plan, group="Ewes")]
    assert min(days) <= date(2027, 4, 24)
    assert any(date(2027, 8, 15) <= day <= date(2027, 9, 5) for day in days)
    assert not any(date(2027, 6, 11) <= day < date(2027, 8, 15) for day in days)
    assert "turnout-to-ticks" not in {conflict.rule for conflict in plan.conflicts}


def test_cover_against_head_flies_stands_before_the_first_of_them() -> None:
    label = merged(FARM["labels"]["pour"], {"uses": {"head": {
        "purpose": "prevent", "targets": ["head-fly"], "protects_days": [28, 28], "dose": [{"ml": 5}]}}})  # fmt: skip
    plan = planned(date(2027, 3, 1), farm=settings("head-fly"), labels={"pour": label},
                   risk=[risk("head-fly", date(2027, 6, 20), date(2027, 8, 31), groups="Ewes")])  # fmt: skip
    assert plan.score.exposed_sheep_days == 0
    first = min(doses(plan, group="Ewes"), key=lambda task: task.day)
    assert date(2027, 5, 30) <= first.day <= date(2027, 6, 20)
    assert first.protects is not None
    assert first.protects.first is not None
    assert first.protects.first <= date(2027, 6, 20)


def scabby(**changed: Any) -> Plan:
    """Scab on one ewe, found today; rams came a week ago and stand apart."""
    today = date(2027, 6, 10)
    rams = {"kind": "ram", "head": 3, "mob": "Paddock", "heaviest_kg": 90, "arrives": date(2027, 6, 3)}
    found = [{"date": today, "group": "Ewes", "what": "scab", "head": 1}]
    given = {"groups": {"Rams": rams}, "labels": {"jab": INJECTION}, "findings": found, "farm": settings("scab"),
             "risk": [risk("scab", date(2027, 12, 1), date(2027, 12, 2))]}  # fmt: skip
    return planned(today, **merged(given, changed))


def test_scab_on_one_ewe_is_treated_today_in_every_sheep_of_the_mob_and_in_no_other() -> None:
    firsts = doses(scabby(), repeat_of=None)
    assert {(task.cohort, task.day) for task in firsts} == {
        ("Ewes/stay", date(2027, 6, 10)), ("Lambs/stay", date(2027, 6, 10)),
    }  # fmt: skip


def test_the_second_injection_that_the_label_asks_for_is_planned() -> None:
    plan = scabby(labels={"dip": {"countries": ["IE"]}})
    assert {task.label for task in doses(plan)} == {"jab"}
    repeats = [task for task in doses(plan) if task.repeat_of]
    assert {task.group for task in repeats} == {"Ewes", "Lambs"}
    assert all(date(2027, 6, 17) <= task.day <= date(2027, 6, 20) for task in repeats)


def test_arrivals_that_share_the_mob_are_to_be_kept_apart_and_are_treated_with_it() -> None:
    plan = scabby(groups={"Rams": {"mob": "Hill"}})
    assert {task.group for task in doses(plan)} == {"Ewes", "Lambs", "Rams"}
    assert [conflict.group for conflict in plan.conflicts if conflict.rule == "arrival-isolation"] == ["Rams"]


def test_a_dip_that_clashes_with_a_dose_of_last_week_is_not_the_treatment() -> None:
    given = [{"date": date(2027, 6, 4), "group": name, "label": "pour", "use": "guard", "head": head}
             for name, head in (("Ewes", 50), ("Lambs", 80))]  # fmt: skip
    clash = {"dip": {"limits": {"not_with": [{"chemical_group": "synthetic pyrethroid", "days": 14}]}}}
    assert {task.label for task in doses(scabby(record=given, labels=clash), status="planned")} == {"jab"}


def test_lice_on_a_few_are_treated_in_the_whole_mob() -> None:
    today = date(2027, 11, 1)
    found = [{"date": today, "group": "Lambs", "what": "lice", "head": 2}]
    plan = planned(
        today, farm=settings("lice"), findings=found, risk=[risk("lice", date(2027, 12, 1), date(2027, 12, 2))]
    )
    assert {(task.cohort, task.day, task.label) for task in doses(plan)} == {
        ("Ewes/stay", today, "dip"), ("Lambs/stay", today, "dip"),
    }  # fmt: skip
