"""Ways out that need no planning again: which conflict offers which, who decides, and that they change nothing."""

from datetime import date
from typing import Any

import pytest

from scheduler.farm import Event, Finding
from scheduler.plan import make_plan
from scheduler.words import Where
from tests.plan.flock import BEFORE, farm, label, may, risk, row, sale, settings

STRUCK = Finding(day=may(31), group="Ewes", what="blowfly-strike", head=50, where=Where("findings.csv", 2))
SCABBY = Finding(day=may(31), group="Ewes", what="scab", where=Where("findings.csv", 2))
DIPPED = Event(what="dipping", first=may(40), last=may(40), groups=("Ewes",), where=Where("events.csv", 2))

OFFERED: tuple[tuple[str, str, str, date, dict[str, Any]], ...] = (
    ("unconfirmed-label", "confirm-label", "keeper", BEFORE, {"labels": {"fly": label(checked=None)}}),
    ("countries-unstated", "confirm-label", "keeper", BEFORE, {"labels": {"fly": label(countries=None)}}),
    ("order-time", "order-now", "keeper", may(31), {}),
    ("stock-short", "order-now", "keeper", may(31), {}),
    ("record-complete", "record-it", "keeper", BEFORE, {"events": (DIPPED,)}),
    ("infested-now", "ask-vet", "vet", may(31), {"findings": (STRUCK,)}),
    ("movement-stop", "ask-vet", "vet", may(31), {"findings": (SCABBY,), "sales": (sale(may(90)),)}),
    ("organic-prevention", "ask-vet", "vet", BEFORE, {"settings": settings(organic=True)}),
    ("infested-now", "record-it", "keeper", may(31), {"findings": (STRUCK,)}),
)


@pytest.mark.parametrize(("rule", "what", "decides", "today", "changed"), OFFERED)
def test_a_way_out_that_leaves_the_plan_as_it_is_says_who_decides_and_changes_nothing(
    rule: str, what: str, decides: str, today: date, changed: dict[str, Any]
) -> None:
    plan = make_plan(farm(**changed), today, None, lambda: False)
    (conflict,) = [conflict for conflict in plan.conflicts if conflict.rule == rule]
    (choice,) = [one for one in conflict.choices if one.what == what]
    assert choice.decides == decides
    assert (choice.exposed_sheep_days, choice.money_minor, choice.handlings) == (0, 0, 0)


def test_high_risk_late_in_the_protection_of_a_dose_given_is_said_in_the_plan() -> None:
    given = farm(record=(row(may(31)),), risk=(risk(may(31), may(72), "0.8"),))
    plan = make_plan(given, may(40), None, lambda: False)
    assert [conflict.day for conflict in plan.conflicts if conflict.rule == "high-challenge"] == [may(31)]


def test_a_label_that_cannot_be_used_is_no_conflict_of_the_plan() -> None:
    plan = make_plan(farm(labels={"fly": label(countries=("IE",))}), BEFORE, None, lambda: False)
    assert "label-unusable" not in {conflict.rule for conflict in plan.conflicts}
