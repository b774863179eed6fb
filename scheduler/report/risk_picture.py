"""The picture of a target's risk as plain numbers: levels as steps over the days of the season."""

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal

from msgspec import Struct

from scheduler.report.risk_view import RiskReport, TargetRisk
from scheduler.words import days_of

HEIGHT = 100
"""What level 1 is high, in the picture's own unit; a day is 1 wide."""

Levels = list[tuple[int, Decimal]]
"""Levels with the days on which they are."""


class RiskPicture(Struct, frozen=True):
    """Paths as SVG path data, empty where there is nothing to draw. act: how far below level 1 the act level lies.

    spread: between the level reached in 4 years of 5 and in 1 year of 5. planned: of the place; without years of
    weather the highest of any group. own: this year's so far.
    """

    risk: TargetRisk
    days: int
    act: int
    spread: str
    median: str
    planned: str
    own: str


def risk_pictures(report: RiskReport) -> tuple[RiskPicture, ...]:
    """A picture for each target."""
    return tuple(_picture(report, risk) for risk in report.targets)


def _picture(report: RiskReport, risk: TargetRisk) -> RiskPicture:
    days = (report.end - report.start).days + 1
    if not risk.days:
        highest = _highest(risk, list(days_of(report.start, report.end)))
        return RiskPicture(risk, days, _y(risk.act_level), "", "", _line(highest), "")
    high, middle, low, planned = (
        list(enumerate(levels))
        for levels in zip(*((day.high, day.middle, day.low, day.planned) for day in risk.days), strict=True)
    )
    own = [(place, day.own) for place, day in enumerate(risk.days) if day.own is not None]
    spread = _line(high) + "L" + _line([(days - 1 - place, level) for place, level in reversed(low)], days)[1:] + "Z"
    return RiskPicture(risk, days, _y(risk.act_level), spread, _line(middle), _line(planned), _line(own))


def _highest(risk: TargetRisk, days: Sequence[date]) -> Levels:
    levels = [Decimal(0)] * len(days)
    for run in risk.runs:
        for place in range((run.first - days[0]).days, (run.last - days[0]).days + 1):
            levels[place] = max(levels[place], run.level)
    return list(enumerate(levels))


def _line(levels: Iterable[tuple[int, Decimal]], back_from: int | None = None) -> str:
    """Steps to the right; with `back_from`, the day at the right edge, steps to the left from there."""
    path, before, after = "", None, 0
    for place, level in levels:
        x = place if back_from is None else back_from - place
        if before is None:
            path = f"M{x} {_y(level)}"
        elif level != before:
            path += f"H{x}V{_y(level)}"
        before, after = level, x + 1 if back_from is None else x - 1
    return f"{path}H{after}" if path else ""


def _y(level: Decimal) -> int:
    return HEIGHT - round(level * HEIGHT)
