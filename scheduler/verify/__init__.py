"""The independent judge: what a list of doses breaks, and its own sums."""

from scheduler.verify.judge import WORK_RULES, stop_breaches, unlawful
from scheduler.verify.score import (
    Sums,
    dose_money,
    exposed_of,
    exposed_sheep_days,
    gather_money,
    gather_of,
    sums_of,
    task_money,
)

__all__ = [
    "WORK_RULES",
    "Sums",
    "dose_money",
    "exposed_of",
    "exposed_sheep_days",
    "gather_money",
    "gather_of",
    "stop_breaches",
    "sums_of",
    "task_money",
    "unlawful",
]
