"""Which of the usual cautions a plan shows."""

from scheduler.facts import facts
from scheduler.farm import Farm
from scheduler.plan import Plan


def cautions_of(plan: Plan, farm: Farm) -> tuple[str, ...]:
    """The cautions that always hold, then those of the forms, sheep and doses that the plan has to do with."""
    labels = {task.label for task in plan.tasks if task.kind == "dose" and task.label in farm.labels}
    doses = [task for task in plan.tasks if task.kind == "dose" and task.label is not None and task.use is not None]
    uses = [farm.labels[task.label].use(task.use) for task in doses if task.label in farm.labels and task.use]
    when = {farm.labels[label].form for label in labels if label is not None}
    words = [
        *sorted(when),
        *(["treat"] if any(use is not None and use.purpose == "treat" for use in uses) else []),
        *(["lambs"] if any(group.kind == "lamb" for group in farm.groups) else []),
        *(["organic"] if farm.settings.organic else []),
        *(["off-label"] if farm.directions else []),
        *(["estimate"] if any(group.growth_kg_per_day for group in farm.groups) else []),
    ]
    return tuple(caution.text for caution in facts().cautions_for(*words))
