"""What the models of risk from weather reckon with: the figures of biology.toml."""

import tomllib
from functools import cache
from typing import Any, TypeVar

from msgspec import Struct

from scheduler.facts.model import Seen
from scheduler.words import package_text

T = TypeVar("T")


class Measure(Struct, frozen=True):
    """One figure of biology or weather, with the range in which it plausibly lies; `unit` says what it is."""

    value: float
    low: float
    high: float
    unit: str
    source: str
    seen: Seen


class FlyFigures(Struct, frozen=True, kw_only=True):
    """A blowfly's year; biology.toml gives each figure its meaning. Without `fade_` figures day length ends nothing."""

    base: Measure
    resume: Measure
    resume_day: Measure
    emergence: Measure
    spread: Measure
    generation: Measure
    overwintered: Measure
    adult_base: Measure
    full_activity: Measure
    fade_from: Measure | None = None
    fade_to: Measure | None = None


class HeadFlyFigures(Struct, frozen=True, kw_only=True):
    """The head fly's year; biology.toml gives each figure its meaning."""

    base: Measure
    first: Measure
    most: Measure
    fewer: Measure
    last: Measure
    adult_base: Measure
    full_activity: Measure


class TickFigures(Struct, frozen=True, kw_only=True):
    """The sheep tick's year; biology.toml gives each figure its meaning."""

    none_below: Measure
    all_from: Measure
    fewer_from: Measure
    few_from: Measure
    summer_share: Measure
    spent_share: Measure
    spent_from: Measure
    spent_to: Measure
    autumn_from: Measure
    autumn_share: Measure
    day_stops: Measure
    day_starts: Measure


class SheepFigures(Struct, frozen=True, kw_only=True):
    """What fleece, dirt, age and rain make of the level of strike; biology.toml gives each figure its meaning."""

    dags: Measure
    full_wool: Measure
    full_wool_days: Measure
    older_lamb: Measure
    older_lamb_days: Measure
    shorn: Measure
    shorn_days: Measure
    wet: Measure
    wet_from: Measure
    wet_to: Measure


class Biology(Struct, frozen=True, kw_only=True):
    """All figures of the models, and two about weather."""

    sericata: FlyFigures
    cuprina: FlyFigures
    head_fly: HeadFlyFigures
    ticks: TickFigures
    sheep: SheepFigures
    gap_days: Measure
    few_years: Measure
    least_gain_days: Measure


@cache
def biology() -> Biology:
    """The figures of biology.toml, read once."""
    tables = tomllib.loads(package_text("scheduler.facts", "biology.toml"))
    return Biology(
        sericata=_of(FlyFigures, tables["strike"]["sericata"]),
        cuprina=_of(FlyFigures, tables["strike"]["cuprina"]),
        head_fly=_of(HeadFlyFigures, tables["head_fly"]),
        ticks=_of(TickFigures, tables["ticks"]),
        sheep=_of(SheepFigures, tables["strike"]["sheep"]),
        gap_days=_measure(tables["weather"]["gap_days"]),
        few_years=_measure(tables["weather"]["few_years"]),
        least_gain_days=_measure(tables["weather"]["least_gain_days"]),
    )


def _of(kind: type[T], table: dict[str, Any]) -> T:
    return kind(**{name: _measure(row) for name, row in table.items()})


def _measure(row: dict[str, Any]) -> Measure:
    value, low, high = (float(row[name]) for name in ("value", "low", "high"))
    return Measure(value, low, high, row["unit"], row["source"], row["seen"])
