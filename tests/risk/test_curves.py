"""The day's temperature from monthly means, and hours of daylight.

Sources: monthly means of Nottingham Castle 1920 to 1939 (R datasets, nottem; Anderson 1976); FAO Irrigation and
Drainage Paper 56, example on daylight hours at 20 degrees south on 3 September, 11.7 hours (from memory).
"""

import numpy as np
import pytest

from scheduler.risk.daylight import daylight_hours
from scheduler.risk.normals import MONTH_DAYS, daily_curve
from tests.outside.tables import rows

NOTTINGHAM = [float(row["mean_c"]) for row in rows("nottingham_normals_1920_1939.csv")]
ENDS = np.cumsum(MONTH_DAYS)


def test_the_curve_keeps_the_mean_of_every_month() -> None:
    means = [part.mean() for part in np.split(daily_curve(NOTTINGHAM), ENDS[:-1])]
    np.testing.assert_allclose(means, NOTTINGHAM, atol=1e-9)


def test_the_curve_has_no_leaps_and_strays_little_beyond_the_means() -> None:
    curve = daily_curve(NOTTINGHAM)
    assert np.abs(np.diff(np.append(curve, curve[0]))).max() < 0.2
    assert min(NOTTINGHAM) - 0.7 < curve.min()
    assert curve.max() < max(NOTTINGHAM) + 0.7


def test_a_year_begun_in_july_is_the_same_turned() -> None:
    curve, turned = daily_curve(NOTTINGHAM), daily_curve(NOTTINGHAM, first_month=7)
    assert turned[:184].tolist() == curve[181:].tolist()
    assert turned[184:].tolist() == curve[:181].tolist()


def test_the_worked_example_of_fao_56() -> None:
    assert daylight_hours(-20, 246) == pytest.approx(11.7, abs=0.05)


def test_day_and_night_are_alike_at_the_equator_and_near_the_equinox() -> None:
    assert daylight_hours(0, [1, 80, 172, 355]).tolist() == pytest.approx([12] * 4)
    assert daylight_hours(60, 81) == pytest.approx(12, abs=0.2)


def test_the_south_has_the_norths_nights_and_the_sun_may_stay_up_or_down() -> None:
    days = np.arange(1, 366)
    np.testing.assert_allclose(daylight_hours(-53, days), 24 - daylight_hours(53, days), atol=1e-9)
    assert daylight_hours(80, [172, 355]).tolist() == [24, 0]
