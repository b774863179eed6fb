"""Medicine labels: their model, the dose that a weight calls for, and their reader."""

from scheduler.labels.dosing import NoBand, band_of, dose_ml, repeat_due
from scheduler.labels.doubts import doubts_of
from scheduler.labels.label_file import Change, filed, filed_at, filled
from scheduler.labels.leaflet import Answers, leaflet
from scheduler.labels.lots import Lot, head_in_lots, lots_of
from scheduler.labels.model import Band, Days, Label, NotWith, Pack, RepeatDuty, Use
from scheduler.labels.questions import Ask, Question, Value, said
from scheduler.labels.read import label_id, read_label
from scheduler.labels.readings import agreed
from scheduler.labels.sheets import LABEL_SHEETS, LABELS, LabelSheets
from scheduler.labels.steps import DoseStep, dose_steps

__all__ = [
    "LABELS",
    "LABEL_SHEETS",
    "Answers",
    "Ask",
    "Band",
    "Change",
    "Days",
    "DoseStep",
    "Label",
    "LabelSheets",
    "Lot",
    "NoBand",
    "NotWith",
    "Pack",
    "Question",
    "RepeatDuty",
    "Use",
    "Value",
    "agreed",
    "band_of",
    "dose_ml",
    "dose_steps",
    "doubts_of",
    "filed",
    "filed_at",
    "filled",
    "head_in_lots",
    "label_id",
    "leaflet",
    "lots_of",
    "read_label",
    "repeat_due",
    "said",
]
