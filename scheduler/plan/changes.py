"""What a new plan changes against the one before."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from scheduler.plan.earlier import EarlierPlan
from scheduler.plan.model import Task


@dataclass(frozen=True, slots=True)
class Moved:
    """A task that stood on another day before."""

    task: Task
    from_day: date


@dataclass(frozen=True, slots=True)
class DoseChanged:
    """A dose task with other millilitres a head than before."""

    task: Task
    from_ml: Decimal | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """Planned tasks moved, new or with another dose, and tasks called off now, each in the order of the plan."""

    moved: tuple[Moved, ...] = ()
    new: tuple[Task, ...] = ()
    gone: tuple[Task, ...] = ()
    dose_changed: tuple[DoseChanged, ...] = ()


def changes(earlier: EarlierPlan | None, tasks: Iterable[Task]) -> Changes:
    """The changes against the earlier plan; none without one."""
    if earlier is None:
        return Changes()
    before = {task.uid: task for task in earlier.tasks}
    tasks = tuple(tasks)
    planned = [task for task in tasks if task.status == "planned"]
    kept = [(task, before[task.uid]) for task in planned if task.uid in before]
    return Changes(
        moved=tuple(Moved(task, old.day) for task, old in kept if task.day != old.day),
        new=tuple(task for task in planned if task.uid not in before),
        gone=tuple(task for task in tasks if task.status == "cancelled" and _was_planned(before.get(task.uid))),
        dose_changed=tuple(DoseChanged(task, old.dose_ml) for task, old in kept if task.dose_ml != old.dose_ml),
    )


def _was_planned(before: Task | None) -> bool:
    return before is not None and before.status != "cancelled"
