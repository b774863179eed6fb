"""Medicine labels: their model, the dose that a weight calls for, and their reader."""

from scheduler.labels.model import Band, Days, Label, NotWith, Pack, RepeatDuty, Use

__all__ = ["Band", "Days", "Label", "NotWith", "Pack", "RepeatDuty", "Use"]
