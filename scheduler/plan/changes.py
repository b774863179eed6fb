"""What a new plan changes against the one before, task by task."""

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Literal

from msgspec import Struct

from scheduler.plan.earlier import EarlierPlan
from scheduler.plan.model import Task

What = Literal[
    "new", "again", "done", "missed", "gone", "past", "moved", "dose-changed", "head-changed", "text-changed"
]  # fmt: skip
"""What became of a task.

new: planned, and not in the plan before. again: planned once more, after it was called off, done or missed. gone:
called off. past: its day went by, and nothing of it remains to be done. The others: another day, other millilitres or
another head than before; text-changed where the sentence alone differs.
"""


class TaskChange(Struct, frozen=True, kw_only=True):
    """A task that is new, or whose date, text or status is another; before: as the earlier plan had it."""

    task: Task
    before: Task | None
    what: tuple[What, ...]


class Changes(Struct, frozen=True, kw_only=True):
    """All changes, in the order of the plan. since: day of the earlier plan, None without one."""

    made_for: date
    since: date | None = None
    changes: tuple[TaskChange, ...] = ()


def changes(earlier: EarlierPlan | None, tasks: Iterable[Task], made_for: date) -> Changes:
    """The changes of a plan's tasks against the earlier plan; of a first plan there are none."""
    if earlier is None:
        return Changes(made_for=made_for)
    before = {task.uid: task for task in earlier.tasks}
    found = (_change(task, before.get(task.uid), made_for) for task in tasks)
    return Changes(made_for=made_for, since=earlier.made_for, changes=tuple(change for change in found if change.what))


def _change(task: Task, before: Task | None, made_for: date) -> TaskChange:
    return TaskChange(task=task, before=before, what=tuple(_what(task, before, made_for)))


def _what(task: Task, before: Task | None, made_for: date) -> Iterator[What]:
    if before is None:
        yield _fate(task, made_for, "new")
        return
    if task.sequence == before.sequence:
        return
    if task.status != before.status:
        yield _fate(task, made_for, "again")
    if task.day != before.day:
        yield "moved"
    if task.dose_ml != before.dose_ml:
        yield "dose-changed"
    if task.head != before.head:
        yield "head-changed"
    same = (task.status, task.day, task.dose_ml, task.head)
    if same == (before.status, before.day, before.dose_ml, before.head):
        yield "text-changed"


def _fate(task: Task, made_for: date, planned: What) -> What:
    """What a task became whose status is new. What stood on a day gone by was not called off, it went by."""
    if task.status == "planned":
        return planned
    if task.status == "cancelled":
        return "past" if task.day < made_for else "gone"
    return task.status
