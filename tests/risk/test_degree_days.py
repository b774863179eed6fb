"""Degree-days against plain integration over the day, and what must hold whatever the weather."""

import math
from typing import get_args

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from scheduler.risk import Cutoff, Method, degree_days

METHODS: tuple[Method, ...] = get_args(Method)
CUTOFFS: tuple[Cutoff, ...] = get_args(Cutoff)
COURSES: tuple[Method, ...] = ("single_triangle", "double_triangle", "single_sine", "double_sine")
STEPS = 5_000
degrees = st.floats(-20, 45).map(lambda value: round(value, 2))
days = st.tuples(degrees, degrees).map(sorted)


def course(method: Method, low: float, high: float, end: float) -> NDArray[np.float64]:
    """Temperatures over a day that runs up from `low` to `high` and down to `end`, at the middles of even steps."""
    part = (np.arange(STEPS) + 0.5) / STEPS
    rise = (1 - np.cos(math.pi * part)) / 2 if method.endswith("sine") else part
    return np.concatenate([low + (high - low) * rise, high + (end - high) * rise])


def integrated(temperatures: NDArray[np.float64], lower: float, upper: float, cutoff: Cutoff) -> float:
    """Heat of one day, summed step by step as the cutoffs are defined."""
    rate = np.clip(temperatures, lower, upper) - lower
    if cutoff == "vertical":
        rate = np.where(temperatures > upper, 0, rate)
    if cutoff == "intermediate":
        rate = rate - np.maximum(temperatures - upper, 0)
    return float(rate.mean())


@pytest.mark.parametrize("cutoff", CUTOFFS)
@pytest.mark.parametrize("method", COURSES)
@settings(deadline=None)
@given(today=days, tomorrow=degrees, thresholds=st.tuples(st.floats(0, 15), st.floats(25, 35)))
def test_integration_step_by_step_agrees(
    method: Method, cutoff: Cutoff, today: list[float], tomorrow: float, thresholds: tuple[float, float]
) -> None:
    (low, high), (lower, upper) = today, thresholds
    end = tomorrow if method.startswith("double") else low
    got = degree_days([low, tomorrow], [high, 50], lower, upper, method, cutoff)[0]
    # Below 45 °C and with thresholds at least 10 °C apart, no half-day's heat above the upper one falls under zero.
    if cutoff != "intermediate" or max(high, end) <= 2 * upper - lower:
        assert got == pytest.approx(integrated(course(method, low, high, end), lower, upper, cutoff), abs=0.02)


@pytest.mark.parametrize("method", METHODS)
@settings(deadline=None)
@given(today=days, warmer=st.floats(0, 10), threshold=st.floats(0, 20), higher=st.floats(0, 10))
def test_more_heat_in_warmer_weather_and_less_above_a_higher_threshold(
    method: Method, today: list[float], warmer: float, threshold: float, higher: float
) -> None:
    low, high = today
    heat = degree_days(low, high, threshold, method=method)
    assert degree_days(low + warmer, high + warmer, threshold, method=method) >= heat - 1e-9
    assert degree_days(low, high, threshold + higher, method=method) <= heat + 1e-9


@pytest.mark.parametrize("method", [method for method in METHODS if not method.startswith("double")])
@settings(deadline=None)
@given(today=days, threshold=st.floats(0, 20))
def test_above_less_below_is_the_mean_less_the_base(method: Method, today: list[float], threshold: float) -> None:
    low, high = today
    above = degree_days(low, high, threshold, method=method)
    below = degree_days(-high, -low, -threshold, method=method)
    assert above - below == pytest.approx((low + high) / 2 - threshold, abs=1e-9)


@pytest.mark.parametrize("method", METHODS)
@settings(deadline=None)
@given(today=days, lower=st.floats(0, 12), upper=st.floats(12, 35))
def test_cutoffs_stand_in_order_and_between_nothing_and_the_thresholds_apart(
    method: Method, today: list[float], lower: float, upper: float
) -> None:
    low, high = today
    horizontal, vertical, intermediate = (degree_days(low, high, lower, upper, method, cutoff) for cutoff in CUTOFFS)
    assert 0 <= vertical <= intermediate + 1e-9
    assert intermediate <= horizontal + 1e-9
    assert horizontal <= upper - lower + 1e-9


@settings(deadline=None)
@given(today=days, part=st.floats(0.1, 0.9), lower=st.floats(0, 12), upper=st.floats(12, 35))
def test_bands_of_temperature_sum_to_the_whole(today: list[float], part: float, lower: float, upper: float) -> None:
    (low, high), between = today, lower + part * (upper - lower)
    parts = degree_days(low, high, lower, between) + degree_days(low, high, between, upper)
    assert parts == pytest.approx(degree_days(low, high, lower, upper), abs=1e-9)


@pytest.mark.parametrize("half", ["triangle", "sine"])
@settings(deadline=None)
@given(today=days, tomorrow=degrees, lower=st.floats(0, 20))
def test_a_double_day_is_the_mean_of_its_two_halves(
    half: str, today: list[float], tomorrow: float, lower: float
) -> None:
    low, high = today
    double: Method = "double_sine" if half == "sine" else "double_triangle"
    single: Method = "single_sine" if half == "sine" else "single_triangle"
    first = degree_days(low, high, lower, method=single)
    second = degree_days(min(tomorrow, high), max(tomorrow, high), lower, method=single)
    got = degree_days([low, tomorrow], [high, 50], lower, method=double)[0]
    assert got == pytest.approx((first + second) / 2, abs=1e-9)


@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("cutoff", CUTOFFS)
def test_a_day_without_a_reading_stays_without_and_takes_no_other_with_it(method: Method, cutoff: Cutoff) -> None:
    tmin = [[5.0, math.nan, 6.0], [4.0, 3.0, 2.0]]
    tmax = [[15.0, 16.0, 17.0], [14.0, math.nan, 12.0]]
    got = degree_days(tmin, tmax, 8, 30, method, cutoff)
    assert np.isnan(got).tolist() == [[False, True, False], [False, True, False]]


@pytest.mark.parametrize("method", METHODS)
def test_any_shape_is_kept_and_each_row_stands_alone(method: Method) -> None:
    draw = np.random.default_rng(1)
    low = draw.normal(6, 5, (3, 2, 40_000))
    high = low + draw.gamma(3, 2, low.shape)
    got = degree_days(low, high, 9, method=method)
    assert got.shape == low.shape
    np.testing.assert_array_equal(got[1, 1], degree_days(low[1, 1], high[1, 1], 9, method=method))
    assert degree_days(4.0, 14.0, 9, method=method).shape == ()
    assert degree_days(np.empty((0, 5)), np.empty((0, 5)), 9, method=method).shape == (0, 5)


@pytest.mark.parametrize(("change", "said"), [
    ({"method": "triple_sine"}, '"triple_sine" is none of: average'),
    ({"cutoff": "slanted"}, '"slanted" is none of: horizontal'),
    ({"lower": 20.0, "upper": 10.0}, "the lower threshold, 20.0, is above the upper one, 10.0"),
    ({"lower": math.nan}, "a threshold must be a finite number"),
    ({"tmin": [1.0, 9.0], "tmax": [8.0, 8.0]}, "tmin is above tmax"),
])  # fmt: skip
def test_what_cannot_be_reckoned_is_refused_in_a_sentence(change: dict[str, object], said: str) -> None:
    asked: dict[str, object] = {"tmin": [1.0], "tmax": [8.0], "lower": 5.0, **change}
    with pytest.raises(ValueError, match=said):
        degree_days(**asked)  # type: ignore[arg-type]
