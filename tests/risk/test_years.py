"""Weather as years: short gaps filled, years with longer ones left out, both said; the season's own year apart."""

from datetime import date
from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest

from scheduler.farm import WeatherDay
from scheduler.risk.spread import by_when, level_reached, rank
from scheduler.risk.years import Weather, read_years, year_start, years_text
from tests.risk.climates import year_of, years_of

OWN = date(2027, 3, 1)


def without(days: tuple[WeatherDay, ...], *gone: date) -> tuple[WeatherDay, ...]:
    """The days but for some."""
    return tuple(day for day in days if day.day not in gone)


def read(days: tuple[WeatherDay, ...]) -> Weather:
    """The years of a northern farm."""
    return read_years(days, OWN, is_south=False)


def test_a_gap_of_three_days_is_filled_in_a_straight_line_and_said() -> None:
    gap = [date(2021, 5, day) for day in (10, 11, 12)]
    days = without(years_of([0], 2021), *gap)
    before, after = (next(day for day in days if day.day == date(2021, 5, d)) for d in (9, 13))
    found = read(days)
    assert found.years == (2021,)
    place = (gap[0] - date(2021, 1, 1)).days
    expected = [float(before.tmin + (after.tmin - before.tmin) * n / 4) for n in (1, 2, 3)]
    np.testing.assert_allclose(found.by_year[0, 0, place : place + 3], expected)
    assert found.notes == ("Weather: 3 days without a reading were filled from the days around it: 10 May 2021.",)


def test_a_gap_of_four_days_leaves_the_year_out_and_says_so() -> None:
    days = without(years_of([0, 0], 2021), *(date(2021, 5, day) for day in (10, 11, 12, 13)))
    found = read(days)
    assert found.years == (2022,)
    assert found.notes == (
        "Weather: 2021 is not used: more than 3 days in a row have no reading (10 May 2021 to 13 May 2021).",
    )


def test_years_not_used_for_one_reason_are_said_in_one_sentence() -> None:
    """Twelve years lack altogether, one a few days of May, and the last its last day only."""
    days = [day for day in years_of([0] * 17, 2000) if not 2001 <= day.day.year <= 2012]
    found = read(without(tuple(days), *(date(2015, 5, day) for day in (10, 11, 12, 13)), date(2016, 12, 31)))
    assert found.years == (2000, 2013, 2014)
    assert found.notes == (
        "Weather: 2001 to 2012, 2015 are not used: more than 3 days in a row have no reading "
        "(1 Jan 2001 to 31 Dec 2012, 10 May 2015 to 13 May 2015).",
        "Weather: 2016 is not used: days where weather.csv begins or ends have no reading (31 Dec 2016).",
    )


def test_a_long_gap_across_the_end_of_a_year_is_the_reason_of_both_years() -> None:
    """Neither year lacks more than three days by itself."""
    gap = (date(2021, 12, 30), date(2021, 12, 31), date(2022, 1, 1), date(2022, 1, 2))
    found = read(without(years_of([0, 0], 2021), *gap))
    assert found.years == ()
    assert found.notes == (
        "Weather: 2021 to 2022 are not used: more than 3 days in a row have no reading (30 Dec 2021 to 2 Jan 2022).",
    )


def test_a_year_begun_late_is_not_used() -> None:
    assert read(year_of(date(2021, 1, 2), days=364)).years == ()


def test_the_seasons_own_year_is_kept_apart_up_to_its_last_reading() -> None:
    found = read((*years_of([0, 0], 2025), *year_of(date(2027, 1, 1), days=59)))
    assert (found.years, found.through, found.own.shape[1]) == ((2025, 2026), date(2027, 2, 28), 59)


@pytest.mark.parametrize("last", [date(2026, 1, 5), date(2026, 9, 30), date(2026, 12, 30)])
def test_weather_that_ends_in_the_year_before_the_season_says_nothing_of_its_own_year(last: date) -> None:
    """And it is no whole year itself."""
    found = read(tuple(day for day in years_of([0, 0], 2025) if day.day <= last))
    assert (found.years, found.through, found.own.shape[1]) == ((2025,), None, 0)


def test_every_year_has_366_days_the_last_of_a_common_one_twice() -> None:
    found = read(years_of([0, 0], 2023))
    assert found.by_year.shape == (3, 2, 366)
    assert found.by_year[0, 0, 365] == found.by_year[0, 0, 364]


def test_southern_years_begin_in_july() -> None:
    found = read_years(years_of([0, 0], 2021, month=7), date(2027, 9, 1), is_south=True)
    assert found.years == (2021, 2022)
    assert year_start(date(2027, 6, 30), is_south=True) == date(2026, 7, 1)
    assert year_start(date(2027, 7, 1), is_south=True) == date(2027, 7, 1)
    broken = read_years(years_of([0], 2021, month=7)[:-30], date(2027, 9, 1), is_south=True)
    assert broken.notes == (
        "Weather: 2021/22 is not used: more than 3 days in a row have no reading (1 Jun 2022 to 30 Jun 2022).",
    )


def test_one_day_is_no_year() -> None:
    day = WeatherDay(day=date(2020, 2, 29), tmin=Decimal(1), tmax=Decimal(2))
    assert read((day,)).years == ()


@pytest.mark.parametrize(("years", "text"), [
    ((2012,), "2012"), ((2012, 2013, 2014), "2012 to 2014"), ((1999, 2001, 2002), "1999, 2001 to 2002"),
])  # fmt: skip
def test_years_in_words(years: tuple[int, ...], text: str) -> None:
    assert years_text(years) == text


@pytest.mark.parametrize(("years", "fifth", "half", "most"), [
    (1, 1, 1, 1), (2, 1, 1, 2), (4, 1, 2, 4), (5, 1, 3, 4), (6, 2, 3, 5), (10, 2, 5, 8), (30, 6, 15, 24),
])  # fmt: skip
def test_how_many_years_are_so_many_of_five(years: int, fifth: int, half: int, most: int) -> None:
    shares = (Fraction(1, 5), Fraction(1, 2), Fraction(4, 5))
    assert tuple(rank(years, share) for share in shares) == (fifth, half, most)


def test_the_level_reached_in_so_many_years_of_five() -> None:
    levels = np.array([[1, 9], [5, 8], [2, 7], [4, 6], [3, 5]])
    assert [level_reached(levels, Fraction(n, 10)).tolist() for n in (2, 5, 8)] == [[5, 9], [3, 7], [2, 6]]


def test_years_that_never_began_come_last_and_are_over_first() -> None:
    days = [10, None, 12, 11, None]
    assert [by_when(days, Fraction(n, 10)) for n in (2, 5, 8)] == [10, 12, None]
    assert [by_when(days, Fraction(n, 10), never_is_before=True) for n in (2, 5, 8)] == [None, 10, 11]
