"""The built-in levels of risk, by month and latitude, where a farm has neither rows of risk.csv nor weather."""

from datetime import date
from decimal import Decimal

from scheduler.facts import facts
from scheduler.words import Target


def default_level(target: Target, latitude: Decimal, day: date) -> Decimal:
    """The built-in level (0 to 1, two decimals) of a target on a day at a latitude (degrees, south negative).

    One level a calendar month; the southern hemisphere has the northern level of six months before.
    Source: facts/risk.toml, common practice, no source.
    """
    month = day.month - 1 if latitude >= 0 else (day.month + 5) % 12
    return _levels(target, abs(latitude))[month]


def _levels(target: Target, latitude: Decimal) -> tuple[Decimal, ...]:
    bands = (table for table in facts().risk if table.target == target)
    return next(table.levels for table in bands if latitude <= table.upto_latitude)
