"""From a farm's season to its plan: numbers for the planner, tasks, choices, and what changed."""

from scheduler.plan.changes import Changes, TaskChange, What, changes
from scheduler.plan.earlier import EarlierPlan, of_another_farm, planned_firsts, read_earlier
from scheduler.plan.find import tasks_named
from scheduler.plan.make import audit_farm, frontier_plans, make_plan, plan_to_explain, plan_within
from scheduler.plan.model import (
    Because,
    Choice,
    ClashFact,
    Clear,
    CohortLine,
    Conflict,
    FrontierPlans,
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
from scheduler.plan.moves import Move, moves_of_this_year
from scheduler.plan.past_years import MadeOn, PastYear, YearPlan, year_plans
from scheduler.plan.settle import Cost, Gap, PlanRefused
from scheduler.plan.trade import TooLittle
from scheduler.plan.why import Explainer
from scheduler.plan.whys import Bound, Change, Ground, Later, NextBest, OtherUse, Slip, Why

__all__ = [
    "Because",
    "Bound",
    "Change",
    "Changes",
    "Choice",
    "ClashFact",
    "Clear",
    "CohortLine",
    "Conflict",
    "Cost",
    "EarlierPlan",
    "Explainer",
    "FrontierPlans",
    "Gap",
    "GapLine",
    "Ground",
    "Later",
    "MadeOn",
    "Move",
    "NextBest",
    "OtherUse",
    "PackCount",
    "PastYear",
    "Plan",
    "PlanRefused",
    "Protects",
    "Run",
    "Score",
    "Shopping",
    "Slip",
    "SourceLine",
    "State",
    "Task",
    "TaskChange",
    "TaskKind",
    "TaskStatus",
    "TooLittle",
    "What",
    "Why",
    "YearPlan",
    "audit_farm",
    "changes",
    "frontier_plans",
    "make_plan",
    "moves_of_this_year",
    "of_another_farm",
    "plan_to_explain",
    "plan_within",
    "planned_firsts",
    "read_earlier",
    "tasks_named",
    "year_plans",
]
