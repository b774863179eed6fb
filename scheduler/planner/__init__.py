"""The exact planner: whole numbers in, a proved choice out."""

from scheduler.planner.answer import Cost, Gap, Impossible, Solved
from scheduler.planner.frontier import Frontier, TooLittle, frontier, within_budget
from scheduler.planner.memory import Memory
from scheduler.planner.narrower import narrowed
from scheduler.planner.problem import Capacity, Cohort, Counter, Course, Dose, Gather, Need, Problem
from scheduler.planner.score import Beside, is_lawful
from scheduler.planner.solving import solve

__all__ = [
    "Beside",
    "Capacity",
    "Cohort",
    "Cost",
    "Counter",
    "Course",
    "Dose",
    "Frontier",
    "Gap",
    "Gather",
    "Impossible",
    "Memory",
    "Need",
    "Problem",
    "Solved",
    "TooLittle",
    "frontier",
    "is_lawful",
    "narrowed",
    "solve",
    "within_budget",
]
