"""What a new plan changes, in words."""

from decimal import Decimal

from scheduler.plan import TaskKind
from scheduler.plan.changes import Changes
from scheduler.report.sentences import headline, number_text
from scheduler.report.view import SeasonReport
from scheduler.words import say_day

KINDS: tuple[TaskKind, ...] = ("dose", "order", "sale", "prepare", "clear", "season-opens", "recheck")


def changed_lines(report: SeasonReport, changes: Changes) -> tuple[str, ...]:
    """A sentence for each task moved, new, called off or with another dose; doses first, regular looks last."""
    told = [
        *((one.task, f"from {say_day(one.from_day)} to {say_day(one.task.day)}") for one in changes.moved),
        *((one.task, f"{_ml(one.from_ml)} before, {_ml(one.task.dose_ml)} now") for one in changes.dose_changed),
        *((task, f"new, {say_day(task.day)}") for task in changes.new),
        *((task, f"called off, was {say_day(task.day)}") for task in changes.gone),
    ]
    told.sort(key=lambda pair: (KINDS.index(pair[0].kind), pair[0].day))
    return tuple(f"{headline(report, task)}: {what}." for task, what in told)


def _ml(amount: Decimal | None) -> str:
    return "amount unknown" if amount is None else f"{number_text(amount)} ml"
