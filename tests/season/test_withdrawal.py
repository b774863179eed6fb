"""How a withdrawal is built up: stated, off-label, organic. Published minima are held in `tests/outside`."""

from datetime import date

import pytest
from msgspec.structs import replace

from scheduler.farm import Direction
from scheduler.season import Course, clear_day, meat_days, milk_days
from scheduler.season.withdrawal import meat_period, milk_period
from scheduler.words import Where
from tests.plan.flock import dose, may
from tests.season.hill import season

VET = Direction(
    label="fly", use="guard", groups=("Ewes",), sets_aside=("fleece-weeks",), signed=date(2027, 5, 1),
    until=date(2027, 9, 1), vet="A. Nother (invented)", where=Where("directions.csv", 2),
)  # fmt: skip
UNKNOWN_LAW = "CH"


def wrote(meat: int | None = None, milk: int | None = None) -> Direction:
    """A vet's direction with these days."""
    return replace(VET, meat_days=meat, milk_days=milk)


def test_so_many_full_days_lie_between_the_dose_and_the_clear_day() -> None:
    assert [clear_day(date(2027, 5, 1), days) for days in (0, 1, 8)] == [date(2027, 5, day) for day in (2, 3, 10)]


@pytest.mark.parametrize(
    ("written", "days"),
    [((), 8), ((None,), 12), ((10,), 12), ((12,), 12), ((13,), 13), ((20, 30), 30), ((30, None), 30)],
)
def test_off_label_the_longest_of_label_law_and_vet_holds(written: tuple[int | None, ...], days: int) -> None:
    """In Great Britain at least 1.5 times the 8 days of the label."""
    assert meat_period(8, "GB", False, [wrote(meat=one) for one in written]).days == days
    assert milk_period(8, "GB", False, [wrote(milk=one) for one in written]).days == days


@pytest.mark.parametrize(("written", "days"), [(None, 8), (7, 8), (9, 9), (0, 8)])
def test_where_the_law_is_not_known_label_and_vet_hold(written: int | None, days: int) -> None:
    assert meat_period(8, UNKNOWN_LAW, False, [wrote(meat=written)]).days == days
    assert milk_period(8, UNKNOWN_LAW, False, [wrote(milk=written)]).days == days


def test_a_label_of_0_days_stays_at_0_off_label_only_for_meat() -> None:
    assert meat_period(0, "GB", False, [wrote(meat=0)]).days == 0
    assert milk_period(0, "GB", False, [wrote(milk=0)]).days == 1
    assert milk_period(0, UNKNOWN_LAW, False, [wrote(milk=0)]).days == 0


def test_the_organic_rule_comes_after_the_off_label_minimum() -> None:
    period = meat_period(8, "GB", True, [wrote(meat=10)])
    assert (period.stated, period.off_label, period.organic, period.days) == (8, 12, 24, 24)


@pytest.mark.parametrize(("stated", "organic"), [(0, 2), (1, 2), (2, 4)])
def test_an_organic_withdrawal_is_twice_the_stated_and_two_days_at_least(stated: int, organic: int) -> None:
    assert milk_period(stated, "GB", True, []).days == organic


@pytest.mark.parametrize("country", ["GB", UNKNOWN_LAW])
def test_what_a_label_does_not_state_or_permit_stays_so_whatever_a_vet_wrote(country: str) -> None:
    for stated in (None, "not-permitted"):
        assert meat_period(stated, country, True, [wrote(meat=30)]).days is None
        assert milk_period(stated, country, False, [wrote(milk=30)]).days is None


def test_a_course_brings_the_days_of_its_label_and_of_directions_for_either_dose() -> None:
    """The label states 8 days for meat and 5 for milk; in Great Britain off-label at least 12 and 8."""
    of = season()
    plain, again = dose(of, may(5)), dose(of, may(12), first_day=may(5))
    carried = replace(again, directions=(wrote(meat=20, milk=9),))
    for course, meat, milk in [(Course(first=plain), 8, 5), (Course(first=plain, repeat=carried), 20, 9)]:
        assert (meat_days(of, course).days, milk_days(of, course).days) == (meat, milk)
