"""How the cases of rules are read: what a case changes, what its farm may be, when an expectation is met."""

from datetime import date
from typing import Any

import pytest

from scheduler.rules import RULES, Breach, Case, Expected, cases
from scheduler.rules.case_farm import farm_of, merged

TODAY = date(2027, 3, 1)
BREACH = Breach(rule="away", text="gone since 1 Jun 2027", cohort="Lambs/stay", group="Lambs", day=date(2027, 6, 2))


def content() -> dict[str, Any]:
    """The farm that all cases start from."""
    first: Case = cases("away")[0]
    return merged(first.content, {"doses": []})


def test_a_change_goes_into_a_table_and_takes_the_place_of_all_else() -> None:
    base = {"sales": {"June": {"head": 20, "date": TODAY}}, "risk": [1], "today": TODAY}
    assert merged(base, {"sales": {"June": {"head": 30}}})["sales"] == {"June": {"head": 30, "date": TODAY}}
    assert merged(base, {"sales": [], "risk": {"a": 1}}) == {"sales": [], "risk": {"a": 1}, "today": TODAY}


def test_the_content_of_a_case_is_its_farm_and_not_what_is_said_of_it() -> None:
    held = {key for rule in RULES for case in cases(rule.slug) for key in case.content}
    assert held.isdisjoint({"name", "source", "breaches"})


def test_a_farm_that_no_keeper_could_have_is_no_case() -> None:
    with pytest.raises(ValueError, match=r"groups\.csv, row 2, head"):
        farm_of(merged(content(), {"groups": {"Ewes": {"head": 0}}}), TODAY)


def test_a_case_may_name_a_farm_in_any_script() -> None:
    name = "Füchse “am Hang” 🐑"
    assert farm_of(merged(content(), {"farm": {"farm": {"name": name}}}), TODAY).settings.name == name


@pytest.mark.parametrize(
    ("expected", "is_met"),
    [
        (Expected(), True),
        (Expected(day=date(2027, 6, 2), cohort="Lambs/stay", group="Lambs", text_has="1 Jun"), True),
        (Expected(day=date(2027, 6, 1), text_has="1 Jun"), False),
        (Expected(cohort="Ewes/stay", text_has="1 Jun"), False),
        (Expected(group="Ewes"), False),
        (Expected(where="sales.csv, row 2"), False),
        (Expected(day=date(2027, 6, 2), text_has="2 Jun"), False),
    ],
)
def test_an_expectation_is_met_where_all_that_it_states_agrees(expected: Expected, is_met: bool) -> None:
    assert expected.is_met(BREACH) == is_met
