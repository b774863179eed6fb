"""Rows of record.csv as doses of cohorts: whom they concern, and what a row of too few head is worth."""

import pytest

from scheduler.season import Season, state_of
from tests.plan.flock import may, risk, row
from tests.season.hill import cohort, finding, sale, season

MART = sale("Mart", 20, may(10), group="Ewes")
TODAY = may(20)


def doses(of: Season) -> dict[str, bool]:
    """The cohorts that have a recorded dose, and whether it was given to all that it concerns."""
    return {dose.cohort.id: dose.whole for dose in of.record}


def test_a_row_without_cohort_concerns_all_of_the_group() -> None:
    assert doses(season(sales=(MART,), record=(row(may(5)),), made_for=TODAY)) == {"Ewes/Mart": True, "Ewes/stay": True}


@pytest.mark.parametrize(("day", "head", "found"), [(9, 50, 2), (10, 30, 1), (11, 30, 1)])
def test_a_row_without_cohort_concerns_those_that_have_not_left(day: int, head: int, found: int) -> None:
    of = season(sales=(MART,), record=(row(may(day), head=head),), made_for=TODAY)
    assert len(doses(of)) == found
    assert all(doses(of).values())


def test_a_row_concerns_the_cohort_that_it_names() -> None:
    of = season(sales=(MART,), record=(row(may(5), cohort="Ewes/Mart", head=20),), made_for=TODAY)
    assert doses(of) == {"Ewes/Mart": True}


@pytest.mark.parametrize(("head", "whole"), [(49, False), (50, True), (51, True)])
def test_a_row_of_fewer_head_was_not_given_to_all(head: int, whole: bool) -> None:
    of = season(record=(row(may(5), head=head),), made_for=TODAY)
    assert doses(of) == {"Ewes/stay": whole}


@pytest.mark.parametrize(("head", "state"), [(49, "exposed"), (50, "covered")])
def test_a_row_of_fewer_head_gives_no_cover(head: int, state: str) -> None:
    of = season(record=(row(may(5), head=head),), made_for=TODAY, risk=(risk(may(1), may(60)),))
    ewes = cohort(of, "Ewes/stay")
    assert state_of(of, ewes, "blowfly-strike", may(6), of.record.of(ewes))[1] == state


@pytest.mark.parametrize(("head", "stands"), [(49, True), (50, False)])
def test_a_row_of_fewer_head_ends_no_finding(head: int, stands: bool) -> None:
    found = finding(2, may(4), group="Ewes", head=50)
    of = season(record=(row(may(5), use="struck", head=head),), findings=(found,), made_for=TODAY)
    ewes = cohort(of, "Ewes/stay")
    assert bool(of.findings.standing(ewes, "blowfly-strike", may(6), of.record.of(ewes))) == stands


@pytest.mark.parametrize(("day", "bound"), [(7, True), (8, False), (9, False)])
def test_a_row_that_names_the_source_binds_the_sheep_found_later(day: int, bound: bool) -> None:
    found = finding(2, may(8), group="Ewes", head=5)
    of = season(record=(row(may(day), cohort="Ewes/stay", head=50),), findings=(found,), made_for=TODAY)
    assert ("Ewes/found-2" in doses(of)) == bound
    assert doses(of)["Ewes/stay"]


def test_a_row_that_names_others_does_not_bind_the_sheep_found_later() -> None:
    of = season(sales=(MART,), record=(row(may(5), cohort="Ewes/Mart", head=20),),
                findings=(finding(2, may(8), group="Ewes", head=5),), made_for=TODAY)  # fmt: skip
    assert doses(of) == {"Ewes/Mart": True}


def test_a_row_of_the_found_sheep_is_theirs_alone() -> None:
    found = finding(2, may(8), group="Ewes", head=5)
    of = season(record=(row(may(9), cohort="Ewes/found-2", head=5),), findings=(found,), made_for=TODAY)
    assert doses(of) == {"Ewes/found-2": True}


def test_a_row_before_the_season_counts_too() -> None:
    assert doses(season(record=(row(may(-30)),))) == {"Ewes/stay": True}


def test_a_row_of_what_was_not_given_is_no_dose() -> None:
    assert doses(season(record=(row(may(5), given=False),), made_for=TODAY)) == {}


def test_a_repeat_not_given_waives_it() -> None:
    rows = (row(may(1)), row(may(8), given=False, repeat_of=may(1)))
    of = season(record=rows, made_for=TODAY)
    assert of.waived_repeats == {("Ewes/stay", "fly", "guard", may(1))}


def test_first_dose_and_repeat_make_one_course() -> None:
    rows = (row(may(1)), row(may(8), repeat_of=may(1)), row(may(15)))
    courses = season(record=rows, made_for=TODAY).record.courses
    assert [[dose.day for dose in course.doses] for course in courses] == [[may(1), may(8)], [may(15)]]
