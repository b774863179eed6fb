"""Invented weather: a year in twelve monthly means, made daily, and years that are warmer or colder than it."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from scheduler.farm import Farm, Group, NormalMonth, WeatherDay
from scheduler.risk import WeatherRisk, weather_risk
from scheduler.risk.normals import daily_curve
from scheduler.words import Target, Where, plus
from tests.plan.flock import settings

TARGETS: tuple[Target, ...] = ("blowfly-strike", "ticks", "head-fly")
TMIN = (1.5, 1.5, 2.5, 4.0, 6.5, 9.5, 11.5, 11.5, 9.5, 7.0, 4.0, 2.0)
TMAX = (7.0, 7.5, 10.0, 12.5, 16.0, 19.0, 21.5, 21.0, 18.0, 14.0, 10.0, 7.5)


def year_of(first: date, warmer: float = 0, days: int = 365) -> tuple[WeatherDay, ...]:
    """Daily weather from a first day on, of the invented northern year begun anew there, so much warmer (°C)."""
    low, high = daily_curve(TMIN), daily_curve(TMAX)
    return tuple(
        WeatherDay(day=plus(first, n), tmin=_degrees(low[n % 365] + warmer), tmax=_degrees(high[n % 365] + warmer))
        for n in range(days)
    )


def years_of(warmer: Sequence[float], first_year: int = 2010, month: int = 1) -> tuple[WeatherDay, ...]:
    """A year for each of these, one after another, each begun on the first of a month (1 or 7)."""
    starts = [date(first_year + n, month, 1) for n in range(len(warmer) + 1)]
    return tuple(
        day
        for start, end, by in zip(starts, starts[1:], warmer, strict=False)
        for day in year_of(start, by, (end - start).days)
    )


def farm(weather: Sequence[WeatherDay] = (), normals: Sequence[NormalMonth] = (), **changed: Any) -> Farm:
    """A farm with one group and this weather; its season is March to November 2027 unless changed."""
    given = {"start": date(2027, 3, 1), "end": date(2027, 11, 30), "targets": TARGETS, "latitude": Decimal(53)}
    ewes = Group(name="Ewes", kind="ewe", head=10, mob="Ewes", where=Where("groups.csv", 2))
    return Farm(settings=settings(**{**given, **changed}), groups=(ewes,), weather=tuple(weather),
                normals=tuple(normals))  # fmt: skip


def normals() -> tuple[NormalMonth, ...]:
    """The monthly means of the invented year."""
    return tuple(NormalMonth(month=n + 1, tmin=_degrees(TMIN[n]), tmax=_degrees(TMAX[n])) for n in range(12))


def risk_of(weather: Sequence[WeatherDay] = (), **changed: Any) -> WeatherRisk:
    """The outlooks of a farm with this weather."""
    return weather_risk(farm(weather, **changed))


def _degrees(value: float) -> Decimal:
    return Decimal(f"{value:.4f}")
