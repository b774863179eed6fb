"""What a new plan changes, in words."""

from datetime import date
from decimal import Decimal

from scheduler.plan import Changes, TaskChange, TaskKind
from scheduler.report.sentences import count_text, headline, number_text
from scheduler.report.view import SeasonReport
from scheduler.words import say_day

KINDS: tuple[TaskKind, ...] = ("dose", "order", "sale", "prepare", "clear", "season-opens", "recheck")


DAYS_ALONE: tuple[TaskKind, ...] = ("clear", "season-opens")
"""Kinds that tell a day, and ask for no work."""


def sorted_changes(changes: Changes) -> tuple[TaskChange, ...]:
    """The changes in the order in which they are told: what lies ahead, what was done or missed, what went by.

    Within each doses first, regular looks last.
    """
    return tuple(sorted(changes.changes, key=_weight))


def _weight(change: TaskChange) -> tuple[int, int, date]:
    task = change.task
    went_by = "past" in change.what or ("done" in change.what and task.kind in DAYS_ALONE)
    place = 2 if went_by else 1 if task.status in ("done", "missed") else 0
    return place, KINDS.index(task.kind), task.day


def changed_lines(report: SeasonReport, changes: Changes) -> tuple[str, ...]:
    """A sentence for each change."""
    return tuple(change_sentence(report, change) for change in sorted_changes(changes))


def change_sentence(report: SeasonReport, change: TaskChange) -> str:
    """The task, what became of it, and what it was before."""
    return f"{headline(report, change.task)}: {', '.join(_words(change))}."


def _words(change: TaskChange) -> list[str]:
    task, before = change.task, change.before
    old = before or task
    later = "" if task.status == "done" else f" to {say_day(task.day)}"
    words = {
        "new": f"new, {say_day(task.day)}",
        "again": f"planned again, {say_day(task.day)}",
        "done": f"{'its day has come' if task.kind in DAYS_ALONE else 'done'}, {say_day(task.day)}",
        "missed": f"missed, was {say_day(old.day)}",
        "gone": f"called off, was {say_day(old.day)}",
        "past": f"its day is over, {say_day(old.day)}",
        "moved": f"{'planned for' if task.status == 'done' else 'from'} {say_day(old.day)}{later}",
        "dose-changed": f"{_ml(old.dose_ml)} before, {_ml(task.dose_ml)} now",
        "head-changed": f"{_head(old.head)} before, {_head(task.head)} now",
        "text-changed": "reads otherwise now",
    }
    return [words[what] for what in change.what]


def _ml(amount: Decimal | None) -> str:
    return "amount unknown" if amount is None else f"{number_text(amount)} ml"


def _head(head: int | None) -> str:
    return "head unknown" if head is None else count_text(head, "head", "head")
