"""Seasons reckoned from real weather against published dates: soft bounds, as places and years differ.

Sources: daily weather of Seattle 2012 to 2015 (NOAA, public domain); monthly means of Nottingham Castle 1920 to 1939 (R
datasets, nottem); Tarry and Kirkwood 1976, Berlyn 1978 and South East Farmer (head fly); MacLeod 1939, Milne 1945,
Daniel and others 2015 (tick); De Cat 2007 (Lucilia cuprina): stored pages. The daily range at Nottingham and the
monthly means of Ballarat are from memory.
"""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

import numpy as np
import pytest

from scheduler.farm import WeatherDay
from scheduler.risk import Outlook, WeatherRisk, weather_risk
from scheduler.risk.normals import daily_curve
from scheduler.words import Target, plus
from tests.outside.tables import rows
from tests.risk.climates import TARGETS, farm

SEATTLE = tuple(
    WeatherDay(day=date.fromisoformat(row["date"]), tmin=Decimal(row["tmin"]), tmax=Decimal(row["tmax"]))
    for row in rows("seattle_daily_2012_2015.csv")
)
HALF_RANGE = (2.7, 3.0, 3.6, 4.3, 4.8, 5.0, 5.0, 4.8, 4.3, 3.5, 2.8, 2.6)
BALLARAT_MIN = (11.1, 11.6, 9.9, 7.4, 5.7, 4.0, 3.2, 3.6, 4.7, 6.1, 7.9, 9.6)
BALLARAT_MAX = (25.4, 25.2, 22.3, 17.9, 13.9, 11.0, 10.1, 11.5, 13.9, 16.7, 19.7, 22.6)


def monthly(first: date, tmin: Sequence[float], tmax: Sequence[float], days: int) -> list[WeatherDay]:
    """Daily weather through monthly means, from the first day of a month on."""
    low, high = daily_curve(tmin, first.month), daily_curve(tmax, first.month)
    return [
        WeatherDay(day=plus(first, n), tmin=Decimal(f"{low[n % 365]:.3f}"), tmax=Decimal(f"{high[n % 365]:.3f}"))
        for n in range(days)
    ]


def nottingham() -> tuple[WeatherDay, ...]:
    """Twenty years through the means of their own months."""
    table = rows("nottingham_monthly_1920_1939.csv")
    found: list[WeatherDay] = []
    for year in range(1920, 1940):
        means = [float(row["mean_c"]) for row in table if int(row["year"]) == year]
        ranges = list(zip(means, HALF_RANGE, strict=True))
        days = (date(year + 1, 1, 1) - date(year, 1, 1)).days
        found += monthly(date(year, 1, 1), [m - r for m, r in ranges], [m + r for m, r in ranges], days)
    return tuple(found)


NOTTINGHAM = weather_risk(farm(nottingham(), latitude=Decimal("52.9")))


def of(risk: WeatherRisk, target: Target) -> Outlook:
    """The outlook of a target."""
    found = risk.of(target)
    assert found is not None
    return found


def opens(outlook: Outlook, steps: int = 6) -> list[int]:
    """Of each year the day of the year on which it first reaches a level, in steps of 0.05."""
    return [int(np.argmax(year >= steps)) for year in outlook.by_year]


def day(month: int, number: int) -> int:
    """Day of a common year, counted from 0."""
    return (date(2027, month, number) - date(2027, 1, 1)).days


def rank_correlation(some: Sequence[float], others: Sequence[float]) -> float:
    """Spearman's, without care for ties."""
    ranks = [np.argsort(np.argsort(values)) for values in (some, others)]
    return 1 - 6 * float(np.sum((ranks[0] - ranks[1]) ** 2)) / (len(some) * (len(some) ** 2 - 1))


@pytest.mark.parametrize(("target", "months", "least"), [
    ("blowfly-strike", (4, 6), 0.6), ("head-fly", (4, 6), 0.6), ("ticks", (1, 3), 0.6),
])  # fmt: skip
def test_warm_years_at_nottingham_open_earlier(target: Target, months: tuple[int, int], least: float) -> None:
    table = rows("nottingham_monthly_1920_1939.csv")
    springs = [
        float(np.mean([float(row["mean_c"]) for row in table
                       if int(row["year"]) == year and months[0] <= int(row["month"]) <= months[1]]))
        for year in range(1920, 1940)
    ]  # fmt: skip
    assert rank_correlation(springs, opens(of(NOTTINGHAM, target))) < -least


@pytest.mark.parametrize("target", TARGETS)
def test_a_degree_more_opens_every_year_at_seattle_earlier_or_on_the_day(target: Target) -> None:
    warmer = [WeatherDay(day=one.day, tmin=one.tmin + 1, tmax=one.tmax + 1) for one in SEATTLE]
    usual, warm = (of(weather_risk(farm(days, latitude=Decimal("47.6"))), target) for days in (SEATTLE, warmer))
    pairs = list(zip(opens(warm), opens(usual), strict=True))
    assert all(early <= late for early, late in pairs)
    assert any(early < late for early, late in pairs)


def test_the_cold_spring_of_2012_at_seattle_opens_last() -> None:
    found = opens(of(weather_risk(farm(SEATTLE, latitude=Decimal("47.6"))), "blowfly-strike"))
    assert int(np.argmax(found)) == 0


def test_strike_at_nottingham_is_from_may_or_june_to_september_or_october() -> None:
    outlook = of(NOTTINGHAM, "blowfly-strike")
    for year in outlook.by_year:
        reached = np.flatnonzero(year >= 6)
        assert day(5, 1) <= reached[0] <= day(7, 10)
        assert day(8, 31) <= reached[-1] <= day(10, 31)


def test_head_fly_first_in_june_most_in_july_or_august_and_few_by_october() -> None:
    """First early June, most in late July (August, says another), low from August, to late September; three weeks."""
    usual = np.median(of(NOTTINGHAM, "head-fly").by_year, axis=0)
    assert abs(int(np.argmax(usual > 0)) - day(6, 5)) <= 21
    assert day(7, 4) <= int(np.argmax(usual)) <= day(8, 31)
    assert usual[day(9, 30)] <= usual.max() / 2
    assert usual[day(11, 1) :].max() <= 1


def test_ticks_come_in_two_waves_the_larger_in_spring_and_none_in_winter() -> None:
    """Milne 1945: two peaks. Daniel 2015 and a Swiss caption: from mid February or March to October or November."""
    usual = np.median(of(NOTTINGHAM, "ticks").by_year, axis=0)
    spring, summer, autumn = (usual[day(a, 1) : day(b, 28)] for a, b in ((3, 5), (7, 8), (9, 10)))
    assert spring.max() > autumn.max() > summer.min()
    assert day(2, 1) <= int(np.argmax(usual >= 6)) <= day(4, 1)
    assert usual[: day(1, 31)].max() <= 2
    assert usual[day(11, 20) :].max() <= 2


def test_ticks_are_out_where_weekly_maxima_lie_in_the_range_of_macleod() -> None:
    """MacLeod 1939: on sheep at weekly means of the maxima from 45 to 60 °F; here in spring, from April to June."""
    row = next(row for row in rows("ixodes_activity.csv") if row["item"] == "active_range_weekly_mean_of_maxima")
    low, high = ((float(row[name]) - 32) / 1.8 for name in ("low", "high"))
    for degrees in np.linspace(low + 1, high, 5):
        still = [WeatherDay(day=plus(date(2020, 1, 1), n), tmin=Decimal(0), tmax=Decimal(f"{degrees:.2f}"))
                 for n in range(366)]  # fmt: skip
        assert of(weather_risk(farm(still)), "ticks").by_year[0, day(4, 1) : day(6, 15)].min() >= 6


def test_the_first_southern_flies_come_around_the_turn_of_september() -> None:
    """De Cat 2007: first flies on 26 September to 4 October near Ballarat; three weeks either way."""
    days = monthly(date(2020, 7, 1), BALLARAT_MIN, BALLARAT_MAX, 365)
    place = farm(days, latitude=Decimal("-37.6"), start=date(2027, 9, 1), end=date(2028, 5, 31), country="AU-VIC")
    outlook = of(weather_risk(place), "blowfly-strike")
    first = int(np.argmax(outlook.by_year[0] > 0))
    assert abs(first - (date(2027, 9, 30) - date(2027, 7, 1)).days) <= 21
