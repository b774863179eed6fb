"""Medicine labels: their model, the dose that a weight calls for, and their reader."""

from scheduler.labels.dosing import NoBand, band_of, dose_ml, repeat_due
from scheduler.labels.model import Band, Days, Label, NotWith, Pack, RepeatDuty, Use
from scheduler.labels.read import label_id, read_label

__all__ = [
    "Band",
    "Days",
    "Label",
    "NoBand",
    "NotWith",
    "Pack",
    "RepeatDuty",
    "Use",
    "band_of",
    "dose_ml",
    "label_id",
    "read_label",
    "repeat_due",
]
