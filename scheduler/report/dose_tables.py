"""The dose tables of the uses that are planned, as far as sheep of this farm may weigh."""

from collections.abc import Iterator
from decimal import Decimal

from msgspec import Struct

from scheduler.labels import DoseStep
from scheduler.report.sentences import number_text
from scheduler.report.view import LabelLine, SeasonReport, UseLine

ROWS_BEYOND = 2
"""Rows kept beyond the heaviest sheep of the plan: the scale may show more than was reckoned."""


class DoseTable(Struct, frozen=True, kw_only=True):
    """One use of one label with its rows, light sheep first."""

    label: LabelLine
    use: UseLine
    steps: tuple[DoseStep, ...]


def dose_tables(report: SeasonReport) -> tuple[DoseTable, ...]:
    """A table for each use of the planned doses, by label and use."""
    return tuple(_tables(report))


def _tables(report: SeasonReport) -> Iterator[DoseTable]:
    planned = [task for task in report.plan.tasks if task.kind == "dose" and task.status == "planned"]
    for label in report.labels:
        for use in label.uses:
            weights = [task.heaviest_kg for task in planned if (task.label, task.use) == (label.id, use.id)]
            if weights and use.doses:
                heaviest = max((kg for kg in weights if kg is not None), default=None)
                yield DoseTable(label=label, use=use, steps=_kept(use.doses, heaviest))


def _kept(steps: tuple[DoseStep, ...], heaviest: Decimal | None) -> tuple[DoseStep, ...]:
    if heaviest is None:
        return steps
    within = sum(1 for step in steps if step.above_kg is None or step.above_kg < heaviest)
    return steps[: within + ROWS_BEYOND]


def step_words(step: DoseStep) -> str:
    """Which sheep a row is for: `over 10 to 20 kg`, `up to 10 kg`, `any weight`, or so much struck fleece."""
    if step.area_cm2 is not None:
        return f"{number_text(step.area_cm2)} cm² struck"
    above = step.above_kg or None
    if step.upto_kg is None:
        return "any weight" if above is None else f"over {number_text(above)} kg"
    upto = f"{number_text(step.upto_kg)} kg"
    return f"up to {upto}" if above is None else f"over {number_text(above)} to {upto}"
