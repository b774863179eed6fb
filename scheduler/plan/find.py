"""The task that a keeper names: by its uid, or as GROUP@DATE."""

from collections.abc import Sequence
from datetime import date

from scheduler.plan.model import Task, TaskKind
from scheduler.tables import did_you_mean, nearest
from scheduler.words import Fault, Where

KINDS: tuple[TaskKind, ...] = ("dose", "sale", "recheck", "prepare", "order", "clear", "season-opens")
"""Kinds of one group and day in the order in which they are meant."""
STATUSES = ("planned", "done", "missed", "cancelled")


def tasks_named(tasks: Sequence[Task], name: str) -> list[Task] | Fault:
    """The tasks that a name may mean, the likeliest first; the fault of a name that means none.

    GROUP may be a cohort's id too. A task of a mob is named by any of its groups.
    """
    name = name.strip()
    same = [task for task in tasks if task.uid == name]
    group, _, day = name.rpartition("@")
    found = same or [task for task in tasks if group in _names(task) and task.day.isoformat() == day]
    if found:
        return sorted(found, key=lambda task: (STATUSES.index(task.status), KINDS.index(task.kind), task.cohort or ""))
    near = did_you_mean(name, [task.uid for task in tasks], "") or _near(tasks, group or name, day)
    mend = near or "the uids stand in plan.json and tasks.csv"
    return Fault(Where("TASK"), f'found "{name}"', "expected the uid of a task, or GROUP@DATE", mend)


def _names(task: Task) -> set[str]:
    return {*(task.group or "").split("; "), task.cohort or ""} - {""}


def _near(tasks: Sequence[Task], group: str, day: str) -> str | None:
    """The nearest name: of the nearest group, or of any where none is near, the task nearest in time, a dose first."""
    known = sorted({name for task in tasks for name in _names(task)})
    inside = [name for name in known if group.casefold() in name.casefold()]
    name = nearest(group, known) or next(iter(inside), None)
    own = [task for task in tasks if task.status != "cancelled" and (name in _names(task) if name else task.group)]
    own = [task for task in own if task.kind == "dose"] or own
    try:
        wanted = date.fromisoformat(day)
    except ValueError:
        wanted = min((task.day for task in own), default=date.min)
    near = min(own, key=lambda task: (abs((task.day - wanted).days), task.day, task.uid), default=None)
    if near is None:
        return None
    told = f"{name or near.group}@{near.day.isoformat()}"
    return f'did you mean "{told}"?' if name else f'a task is named so: "{told}"'
