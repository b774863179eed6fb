"""Levels of risk, 0 to 1, of each target on each day."""

from scheduler.risk.default import default_level

__all__ = ["default_level"]
