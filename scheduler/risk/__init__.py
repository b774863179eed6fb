"""Levels of risk, 0 to 1, of each target on each day."""

from scheduler.risk.default import default_level
from scheduler.risk.heat import Cutoff, Method, degree_days

__all__ = ["Cutoff", "Method", "default_level", "degree_days"]
