"""Weights and ages worked by hand: 1.25 and 0.75 of 0.2 kg a day are 0.25 kg and 0.15 kg.

Birth weights 8.0 and 2.5 kg and both factors are the program's own allowance, without source.
"""

from datetime import date
from decimal import Decimal

import pytest
from msgspec.structs import replace

from scheduler.farm import Group
from scheduler.season import Season, age_days
from tests.plan.flock import BEFORE, ewes, farm
from tests.season.hill import lambs, may, rams, season, weighing


def kg(of: Season, group: str, day: date) -> tuple[str | None, str | None]:
    """Heaviest and lightest, as written."""
    weight = of.weights.on(group, day)
    heaviest, lightest = (None if one is None else f"{one.normalize():f}" for one in (weight.heaviest, weight.lightest))
    return heaviest, lightest


def of_group(group: Group) -> Season:
    """A season with this group alone."""
    return Season(farm(groups=(group,)), BEFORE)


@pytest.mark.parametrize(
    ("day", "weights"),
    [
        (date(2027, 4, 9), ("8", "2.5")),
        (date(2027, 4, 10), ("8", "2.5")),
        (date(2027, 4, 11), ("8.25", "2.5")),
        (date(2027, 4, 20), ("10.5", "2.5")),
        (date(2027, 4, 21), ("10.75", "2.65")),
        (may(1), ("13.25", "4.15")),
    ],
)
def test_lambs_grow_from_birth(day: date, weights: tuple[str, str]) -> None:
    """On 1 May: 21 days after the first birth, 8 + 21 x 0.25 = 13.25; 11 after the last, 2.5 + 11 x 0.15 = 4.15."""
    assert kg(season(), "Lambs", day) == weights


@pytest.mark.parametrize(
    ("day", "weights"), [(9, ("15.25", "5.35")), (10, ("18", "9")), (11, ("18.25", "9.15")), (20, ("20.5", "10.5"))]
)
def test_a_weighing_holds_from_its_day_on(day: int, weights: tuple[str, str]) -> None:
    assert kg(season(weighings=(weighing(may(10), "18", "9"),)), "Lambs", may(day)) == weights


def test_heaviest_and_lightest_go_each_by_their_own_latest_weighing() -> None:
    rows = (weighing(may(10), "18", "9"), weighing(may(20), "21"))
    assert kg(season(weighings=rows), "Lambs", may(22)) == ("21.5", "10.8")


def test_on_one_date_the_table_of_weights_wins() -> None:
    group = lambs(heaviest_kg=Decimal(17), lightest_kg=Decimal(8), weighed_on=may(10))
    of = Season(farm(groups=(group,), weighings=(weighing(may(10), "18"),)), BEFORE)
    assert kg(of, "Lambs", may(10)) == ("18", "8")


def test_a_weighing_without_a_date_is_the_oldest_and_no_growth_is_counted_on_it() -> None:
    of = of_group(ewes(lightest_kg=Decimal(50)))
    assert kg(of, "Ewes", date(2026, 1, 1)) == ("70", "50")
    assert kg(of, "Ewes", may(31)) == ("70", "50")


def test_grown_sheep_are_carried_back_from_their_first_weighing() -> None:
    of = Season(
        farm(weighings=(weighing(may(10), "72", "51", group="Ewes"),), groups=(ewes(heaviest_kg=None),)), BEFORE
    )
    assert kg(of, "Ewes", may(1)) == ("72", "51")


@pytest.mark.parametrize(("day", "heaviest"), [(10, "18"), (17, "19.75"), (18, "20"), (19, "20")])
def test_growth_stops_at_the_grown_weight(day: int, heaviest: str) -> None:
    group = lambs(grown_kg=Decimal(20), heaviest_kg=Decimal(18), weighed_on=may(10))
    assert kg(of_group(group), "Lambs", may(day))[0] == heaviest


def test_a_weighing_over_the_grown_weight_stands() -> None:
    group = lambs(grown_kg=Decimal(20), heaviest_kg=Decimal(23), weighed_on=may(10))
    assert kg(of_group(group), "Lambs", may(30))[0] == "23"


def test_grown_sheep_never_weighed_have_no_weight() -> None:
    assert kg(season(), "Rams", may(1)) == (None, None)


@pytest.mark.parametrize(("day", "age"), [(date(2027, 4, 19), -1), (date(2027, 4, 20), 0), (date(2027, 4, 21), 1)])
def test_age_is_that_of_the_last_born(day: date, age: int) -> None:
    assert age_days(lambs(), day) == age


def test_age_goes_by_the_first_birth_where_the_last_is_not_written() -> None:
    assert age_days(lambs(born_last=None), may(1)) == 21


def test_age_of_sheep_without_a_birth_is_unknown() -> None:
    assert age_days(rams(), may(1)) is None


def test_grown_sheep_have_no_birth_weight_though_their_birth_is_known() -> None:
    assert kg(of_group(lambs(kind="hogg")), "Lambs", may(1)) == (None, None)


def test_the_weighing_of_another_group_says_nothing() -> None:
    assert kg(season(weighings=(weighing(may(10), "18", "9", group="Rams"),)), "Lambs", may(10)) == ("15.5", "5.5")


@pytest.mark.parametrize(("day", "mean"), [(9, None), (10, "14"), (20, "16")])
def test_the_mean_grows_as_the_group_does_from_its_latest_weighing(day: int, mean: str | None) -> None:
    row = replace(weighing(may(10), "18", "9"), mean_kg=Decimal(14))
    found = season(weighings=(row,)).weights.mean_on("Lambs", may(day))
    assert found == (None if mean is None else Decimal(mean))
