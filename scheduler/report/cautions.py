"""The usual cautions that belong to a plan."""

from collections.abc import Iterator

from scheduler.facts import facts
from scheduler.farm import Farm
from scheduler.plan import Plan, Task


def cautions_of(plan: Plan, farm: Farm) -> tuple[str, ...]:
    """Whole sentences: those that always hold, and those of the forms, targets and sheep that the doses meet."""
    when = ["organic"] if farm.settings.organic else []
    for task in plan.tasks:
        if task.kind == "dose" and task.status != "cancelled":
            when += _when(task, plan, farm)
    return tuple(caution.text for caution in facts().cautions_for(*dict.fromkeys(when)))


def _when(task: Task, plan: Plan, farm: Farm) -> Iterator[str]:
    label = farm.labels.get(task.label or "")
    use = label.use(task.use) if label and task.use else None
    if label is not None:
        yield label.form
    if use is not None and use.purpose == "treat":
        yield "treat"
    if any(cohort.id == task.cohort and cohort.kind == "lamb" for cohort in plan.cohorts):
        yield "lambs"
    if task.heaviest_kg is not None:
        yield "estimate"
    if any(_directs(row.label, row.use, row.groups, task) for row in farm.directions):
        yield "off-label"


def _directs(label: str, use: str, groups: tuple[str, ...], task: Task) -> bool:
    return (label, use) == (task.label, task.use) and task.group in groups
