"""Medicine labels: their model, the dose that a weight calls for, and their reader."""

from scheduler.labels.dosing import NoBand, band_of, dose_ml, repeat_due
from scheduler.labels.lots import Lot, head_in_lots, lots_of
from scheduler.labels.model import Band, Days, Label, NotWith, Pack, RepeatDuty, Use
from scheduler.labels.read import label_id, read_label
from scheduler.labels.sheets import LABEL_SHEETS, LABELS, LabelSheets
from scheduler.labels.steps import DoseStep, dose_steps

__all__ = [
    "LABELS",
    "LABEL_SHEETS",
    "Band",
    "Days",
    "DoseStep",
    "Label",
    "LabelSheets",
    "Lot",
    "NoBand",
    "NotWith",
    "Pack",
    "RepeatDuty",
    "Use",
    "band_of",
    "dose_ml",
    "dose_steps",
    "head_in_lots",
    "label_id",
    "lots_of",
    "read_label",
    "repeat_due",
]
