"""Whom a finding concerns, and when it stands. Days are of May 2027."""

from typing import Any

import pytest
from msgspec.structs import replace

from scheduler.farm import Event, Finding
from scheduler.season import Season, ends
from scheduler.words import Target
from tests.plan.flock import dose, label, may, prevent
from tests.season.hill import cohort, event, finding, sale, season

CURE = prevent(id="struck", purpose="treat", protects_days=(0, 0), works_after_days=2)
LABELS = {"fly": label(uses=(prevent(), CURE))}


def concerned(found: Finding, target: Target, *events: Event, **changed: Any) -> set[str]:
    """The cohorts that a finding of the 3rd concerns."""
    of = season(*events, findings=(found,), labels=LABELS, **changed)
    return {one.id for one in of.cohorts if of.findings.of(one, target)}


@pytest.mark.parametrize("what", ["lice", "scab"])
def test_lice_and_scab_concern_the_mob_as_it_is_on_that_day(what: Target) -> None:
    found = finding(2, may(3), what=what, head=1)
    assert concerned(found, what) == {"Ewes/stay", "Lambs/stay"}
    assert concerned(found, what, event("weaning", may(3), groups="Lambs")) == {"Ewes/stay", "Lambs/stay"}
    assert concerned(found, what, event("weaning", may(2), groups="Lambs")) == {"Lambs/stay"}


@pytest.mark.parametrize(("day", "is_there"), [(3, False), (4, True)])
def test_lice_do_not_concern_sheep_that_have_left(day: int, is_there: bool) -> None:
    sold = (sale("Mart", 20, may(day), group="Ewes"),)
    assert ("Ewes/Mart" in concerned(finding(2, may(3), what="lice"), "lice", sales=sold)) == is_there


@pytest.mark.parametrize(
    ("head", "expected"), [(None, {"Lambs/found-2"}), (39, {"Lambs/found-2"}), (40, {"Lambs/stay"})]
)
def test_strike_concerns_the_sheep_found_or_the_whole_group(head: int | None, expected: set[str]) -> None:
    assert concerned(finding(2, may(3), head=head), "blowfly-strike") == expected


def test_a_finding_of_one_target_is_none_of_another() -> None:
    assert concerned(finding(2, may(3), head=40), "ticks") == set()


def treated(of: Season, day: int, **changed: Any) -> bool:
    """Whether a treatment on the day, with its works_after of 2 days, has ended strike of the 3rd by the 10th."""
    found = of.farm.findings[0]
    given = dose(of, may(day), use="struck", cohort=cohort(of, "Lambs/stay"))
    return ends(replace(given, **changed), found, "blowfly-strike", may(10))


@pytest.mark.parametrize(("day", "is_over"), [(2, False), (3, True), (8, True), (9, False)])
def test_a_treatment_on_the_day_of_the_finding_or_after_ends_it_once_it_works(day: int, is_over: bool) -> None:
    assert treated(season(findings=(finding(2, may(3), head=40),), labels=LABELS), day) == is_over


@pytest.mark.parametrize(
    "changed",
    [{"use": prevent()}, {"use": replace(CURE, targets=("ticks",))}, {"whole": False}, {"origin": "missed"}],
)
def test_what_prevents_or_is_for_another_target_or_was_not_given_to_all_ends_nothing(changed: dict[str, Any]) -> None:
    assert not treated(season(findings=(finding(2, may(3), head=40),), labels=LABELS), 5, **changed)


def test_a_repeat_ends_what_was_found_since_the_first_dose() -> None:
    assert treated(season(findings=(finding(2, may(3), head=40),), labels=LABELS), 8, first_day=may(1))
