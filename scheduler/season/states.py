"""The state of every cohort's day for a target: away, exposed, low, covered or fading."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from functools import lru_cache
from itertools import groupby
from typing import Literal

from msgspec import Struct

from scheduler.season.cohorts import Cohort
from scheduler.season.doses import Dose, Doses
from scheduler.season.season import Season
from scheduler.words import Span, Target

State = Literal["away", "exposed", "low", "covered", "fading"]
FOUND_LEVEL = Decimal(1)
"""The level of a target on a day when a finding of it stands."""


class Run(Struct, frozen=True):
    """A maximal span of equal level and state of one cohort and target."""

    cohort: Cohort
    target: Target
    span: Span
    level: Decimal
    state: State


def state_of(
    season: Season, cohort: Cohort, target: Target, day: date, doses: tuple[Dose, ...]
) -> tuple[Decimal, State]:
    """Level and state of one day; `doses` are those of the cohort."""
    if not season.is_here(cohort, day):
        return Decimal(0), "away"
    if season.findings.standing(cohort, target, day, doses):
        return FOUND_LEVEL, "exposed"
    level = season.base_level(cohort, target, day)
    if not season.reaches_act_level(target, level):
        return level, "low"
    state: State = "exposed"
    for dose in doses:
        if dose.works and target in dose.use.targets:
            cover = season.cover(cohort, dose.use, dose.day)
            if day in cover.cover:
                return level, "covered"
            if day in cover.fading:
                state = "fading"
    return level, state


def runs_of(season: Season, doses: Doses, cohort: Cohort, target: Target) -> list[Run]:
    """The runs that tile the season for one cohort and target."""
    given = doses.of(cohort)
    days = [(day, *state_of(season, cohort, target, day, given)) for day in season.span.days()]
    runs = []
    for (level, state), same in groupby(days, key=lambda item: (item[1], item[2])):
        span = [day for day, _, _ in same]
        runs.append(Run(cohort, target, Span(span[0], span[-1]), level, state))
    return runs


@lru_cache(maxsize=4)
def all_runs(season: Season, doses: Doses) -> tuple[Run, ...]:
    """The runs of every cohort and every target of the plan, cohorts in order, targets in order.

    Several rules ask for those of one plan, so the last few are kept.
    """
    return tuple(
        run for cohort in season.cohorts for target in season.targets for run in runs_of(season, doses, cohort, target)
    )


def spans_in_state(season: Season, runs: Iterable[Run], state: State) -> list[Run]:
    """Unbroken spans in one state from made_for on, whatever the level; `level` is the highest of the span."""
    found: list[Run] = []
    for run in runs:
        span = Span(max(run.span.first, season.first_day), run.span.last)
        if run.state != state or not len(span):
            continue
        last = found[-1] if found else None
        if (
            last is not None
            and (last.cohort, last.target) == (run.cohort, run.target)
            and (span.first - last.span.last).days == 1
        ):
            found[-1] = Run(run.cohort, run.target, Span(last.span.first, span.last), max(last.level, run.level), state)
        else:
            found.append(Run(run.cohort, run.target, span, run.level, state))
    return found
