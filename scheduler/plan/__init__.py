"""From a farm's season to its plan: numbers for the planner, tasks, choices, and what changed."""

from scheduler.plan.changes import Changes, changes
from scheduler.plan.earlier import EarlierPlan, of_another_farm, planned_firsts, read_earlier
from scheduler.plan.make import audit_farm, make_plan
from scheduler.plan.model import (
    Because,
    Choice,
    ClashFact,
    Clear,
    CohortLine,
    Conflict,
    GapLine,
    PackCount,
    Plan,
    Protects,
    Run,
    Score,
    Shopping,
    SourceLine,
    State,
    Task,
    TaskKind,
    TaskStatus,
)
from scheduler.plan.settle import Cost, Gap, PlanRefused

__all__ = [
    "Because",
    "Changes",
    "Choice",
    "ClashFact",
    "Clear",
    "CohortLine",
    "Conflict",
    "Cost",
    "EarlierPlan",
    "Gap",
    "GapLine",
    "PackCount",
    "Plan",
    "PlanRefused",
    "Protects",
    "Run",
    "Score",
    "Shopping",
    "SourceLine",
    "State",
    "Task",
    "TaskKind",
    "TaskStatus",
    "audit_farm",
    "changes",
    "make_plan",
    "of_another_farm",
    "planned_firsts",
    "read_earlier",
]
