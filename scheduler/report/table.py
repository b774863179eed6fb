"""The picture's bands in words, for those who read rather than look."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from scheduler.plan import CohortLine, Run, State
from scheduler.report.bands import state_spans
from scheduler.report.view import SeasonReport
from scheduler.words import Span, Target

SHOWN: tuple[State, ...] = ("exposed", "fading", "covered", "away")


@dataclass(frozen=True, slots=True, kw_only=True)
class StateLine:
    """All days of one state of a target, with the lowest and highest level in them."""

    target: Target
    state: State
    spans: tuple[Span, ...]
    lowest: Decimal
    highest: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class CohortStates:
    """The states of one cohort; low days are left out."""

    cohort: CohortLine
    lines: tuple[StateLine, ...]


def season_table(report: SeasonReport) -> tuple[CohortStates, ...]:
    """Every cohort with its covered, fading, exposed and away days, by target."""
    runs: dict[tuple[str, Target], list[Run]] = {}
    for run in report.plan.days:
        runs.setdefault((run.cohort, run.target), []).append(run)
    return tuple(
        CohortStates(
            cohort=cohort,
            lines=tuple(
                line for target, _ in report.act_levels for line in _lines(target, runs.get((cohort.id, target), []))
            ),
        )
        for cohort in report.plan.cohorts
    )


def _lines(target: Target, runs: list[Run]) -> Iterator[StateLine]:
    spans = list(state_spans(runs))
    for state in SHOWN:
        levels = [run.level for run in runs if run.state == state]
        if levels:
            yield StateLine(
                target=target,
                state=state,
                spans=tuple(span for own, span in spans if own == state),
                lowest=min(levels),
                highest=max(levels),
            )
