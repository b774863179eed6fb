"""Levels from weather: warm opens early, caution looks at the earlier years, the south is the mirrored north."""

from datetime import date
from decimal import Decimal

import numpy as np
import pytest

from scheduler.farm import Caution, WeatherDay
from scheduler.risk import Dates, Outlook, WeatherRisk, weather_risk
from scheduler.words import Target, days_of, plus
from tests.risk.climates import TARGETS, farm, normals, risk_of, year_of, years_of

FIRST, LAST = date(2027, 1, 1), date(2027, 12, 31)
ACT = Decimal("0.3")
FIVE = (-1.0, -0.5, 0.0, 0.5, 1.0)


def outlook(risk: WeatherRisk, target: Target) -> Outlook:
    """The outlook of a target that has one."""
    found = risk.of(target)
    assert found is not None
    return found


def starts(weather: tuple[WeatherDay, ...], target: Target) -> Dates:
    """When the season of a target starts by this weather."""
    return outlook(risk_of(weather), target).starts(FIRST, LAST, ACT)


@pytest.mark.parametrize("target", TARGETS)
def test_a_degree_more_opens_the_season_earlier(target: Target) -> None:
    usual, warm = starts(years_of([0]), target), starts(years_of([1]), target)
    assert usual.middle is not None
    assert warm.middle is not None
    assert warm.middle < usual.middle


@pytest.mark.parametrize("target", TARGETS)
def test_warmer_by_tenths_never_opens_the_season_later(target: Target) -> None:
    by_year = outlook(risk_of(years_of([n / 10 - 4 for n in range(80)], first_year=1940)), target).by_year
    opens = [int(np.argmax(year >= 6)) if (year >= 6).any() else 400 for year in by_year]
    assert opens == sorted(opens, reverse=True)
    assert len(set(opens)) > 20


@pytest.mark.parametrize("target", ["blowfly-strike", "head-fly"])
def test_a_cold_hill_has_a_later_shorter_and_lower_season(target: Target) -> None:
    hill, lowland = outlook(risk_of(years_of([-2.5])), target), outlook(risk_of(years_of([0.5])), target)
    assert hill.by_year.max() < lowland.by_year.max()
    assert (hill.by_year >= 4).sum() < (lowland.by_year >= 4).sum()
    assert np.argmax(hill.by_year >= 4) > np.argmax(lowland.by_year >= 4)


@pytest.mark.parametrize("target", TARGETS)
@pytest.mark.parametrize(("caution", "year"), [("high", 4), ("middle", 2), ("low", 1)])
def test_the_plan_reckons_with_as_many_years_of_five_as_caution_says(
    target: Target, caution: Caution, year: int
) -> None:
    """Of five years, each warmer than the last, levels rise with warmth up to April."""
    found = outlook(risk_of(years_of(FIVE), caution=caution), target)
    spring = slice(0, 90 if target == "ticks" else 150)
    np.testing.assert_array_equal(found.planned[spring], found.by_year[year][spring])


@pytest.mark.parametrize("target", TARGETS)
def test_early_middle_and_late_are_the_years_in_order(target: Target) -> None:
    alone = [starts(years_of([warmer]), target).middle for warmer in FIVE]
    found = starts(years_of(FIVE), target)
    assert (found.early, found.middle, found.late) == (alone[4], alone[2], alone[1])


def test_years_alike_have_no_spread() -> None:
    found = starts(years_of([0] * 5), "blowfly-strike")
    assert found.early == found.middle == found.late


@pytest.mark.parametrize("target", TARGETS)
def test_the_same_weather_half_a_year_on_gives_the_mirrored_season(target: Target) -> None:
    north = outlook(risk_of(years_of(FIVE)), target)
    south = outlook(
        risk_of(years_of(FIVE, month=7), latitude=Decimal(-53), start=date(2027, 9, 1), end=date(2028, 5, 31)), target
    )
    new_year, july = date(2027, 1, 1), date(2027, 7, 1)
    for n in range(365):
        assert south.level(plus(july, n)) == north.level(plus(new_year, n))


def test_australian_strike_follows_its_own_fly() -> None:
    weather = years_of([3], month=7)
    season = {"latitude": Decimal(-38), "start": date(2027, 9, 1), "end": date(2028, 5, 31)}
    here, there = (risk_of(weather, country=country, **season).of("blowfly-strike") for country in ("AU-VIC", "UY"))
    assert here is not None
    assert there is not None
    assert here.by_year.tolist() != there.by_year.tolist()


def test_lice_and_scab_do_not_follow_the_weather() -> None:
    risk = risk_of(years_of([0]))
    assert (risk.of("lice"), risk.of("scab")) == (None, None)


def test_weather_comes_before_normals_and_normals_before_nothing() -> None:
    both = weather_risk(farm(years_of([0]), normals()))
    part_of_a_year = weather_risk(farm(year_of(date(2020, 1, 1), days=300), normals()))
    assert [both.source, part_of_a_year.source, risk_of().source] == ["weather", "normals", None]
    assert (both.years, part_of_a_year.years) == ((2010,), ())
    assert risk_of(year_of(date(2020, 1, 1), days=300)).of("ticks") is None


@pytest.mark.parametrize("target", TARGETS)
def test_normals_give_what_the_daily_year_with_those_means_gives(target: Target) -> None:
    from_normals = outlook(weather_risk(farm(normals=normals())), target)
    daily = outlook(risk_of(years_of([0], first_year=2011)), target)
    assert np.abs(from_normals.planned - daily.planned).max() <= 1


def test_levels_stand_between_nothing_and_one_in_any_weather() -> None:
    for warmer in (-60.0, -15.0, 15.0, 30.0):
        risk = risk_of(years_of([warmer]))
        for target in TARGETS:
            levels = {outlook(risk, target).level(day) for day in days_of(FIRST, date(2028, 12, 31))}
            assert min(levels) >= 0
            assert max(levels) <= 1


def test_a_season_that_is_never_reached_has_no_dates() -> None:
    found = outlook(risk_of(years_of([-12, -12])), "blowfly-strike")
    assert found.starts(FIRST, LAST, ACT) == found.ends(FIRST, LAST, ACT) == Dates(None, None, None)
