"""What rules ask of a season: days at risk between two days, shearings, directions, labels that hold here."""

from typing import Any

import pytest
from msgspec.structs import replace

from scheduler.farm import Direction
from scheduler.season import label_use
from scheduler.words import Where
from tests.plan.flock import dose, label, may, prevent, risk, settings
from tests.season.hill import cohort, event, season

VET = Direction(
    label="fly", use="guard", groups=("Ewes",), sets_aside=("fleece-weeks", "youngest-age"), signed=may(3),
    until=may(5), vet="A. Nother (invented)", where=Where("directions.csv", 2),
)  # fmt: skip
LAST = 153
"""30 September, the season's end, counted from 1 May."""


@pytest.mark.parametrize(
    ("first", "last", "is_risk"),
    [(1, 4, False), (1, 5, True), (7, 8, True), (9, 9, True), (10, 99, False), (8, 7, False)],
)
def test_a_day_at_risk_lies_between_two_days(first: int, last: int, is_risk: bool) -> None:
    of = season(risk=(risk(may(5), may(9)),))
    assert of.is_risk_between(cohort(of, "Ewes/stay"), "blowfly-strike", may(first), may(last)) == is_risk


@pytest.mark.parametrize(("ahead", "is_risk"), [(20, True), (21, False)])
def test_days_at_risk_reach_as_far_beyond_the_season_as_the_longest_protection(ahead: int, is_risk: bool) -> None:
    of = season(
        risk=(risk(may(LAST + 1), may(LAST + 99)),), labels={"fly": label(uses=(prevent(protects_days=(9, 20)),))}
    )
    day = may(LAST + ahead)
    assert of.is_risk_between(cohort(of, "Ewes/stay"), "blowfly-strike", day, day) == is_risk


def test_shearings_stand_in_order_of_date() -> None:
    of = season(event("shearing", may(20)), event("shearing", may(10)), event("shearing", may(5), groups="Rams"))
    assert [one.first for one in of.shearings(cohort(of, "Ewes/stay"))] == [may(10), may(20)]


@pytest.mark.parametrize(
    ("changed", "day", "holds"),
    [
        ({}, 2, False),
        ({}, 3, True),
        ({}, 5, True),
        ({}, 6, False),
        ({"label": "other"}, 4, False),
        ({"use": "struck"}, 4, False),
        ({"groups": ("Lambs",)}, 4, False),
        ({"sets_aside": ("youngest-age",)}, 4, False),
    ],
)
def test_a_direction_is_for_its_label_use_groups_rule_and_days(changed: dict[str, Any], day: int, holds: bool) -> None:
    of = season(directions=(replace(VET, **changed),))
    assert bool(of.directions(dose(of, may(day)), "fleece-weeks")) == holds


@pytest.mark.parametrize(
    ("here", "countries", "holds"),
    [
        ("GB", None, True),
        ("GB", ("IE", "GB"), True),
        ("GB", ("IE",), False),
        ("GB-SCT", ("GB",), True),
        ("GB-SCT", ("GB-ENG",), False),
        ("GB", ("GB-SCT",), False),
        ("GB-NIR", ("GB",), False),
        ("GB-NIR", ("GB-NIR",), True),
    ],
)
def test_a_label_holds_in_its_countries_and_their_parts(
    here: str, countries: tuple[str, ...] | None, holds: bool
) -> None:
    of = season(settings=settings(country=here))
    assert of.holds_here(label(countries=countries)) == holds


def test_a_use_that_its_label_does_not_have_is_no_use() -> None:
    of = season()
    assert label_use(of.farm, "fly", "struck")[1].purpose == "treat"
    with pytest.raises(LookupError):
        label_use(of.farm, "fly", "bath")
