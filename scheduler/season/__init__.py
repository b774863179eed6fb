"""The farm as rules ask about it: cohorts over the days, their weights, risk, cover, findings and withdrawal."""

from scheduler.season.bars import SaleBar, export_binds, is_for_meat, meat_days, milk_days, sale_bar
from scheduler.season.cohorts import Cohort
from scheduler.season.cover import Cover, planning_days
from scheduler.season.doses import Course, Dose, Doses, Origin
from scheduler.season.findings import ends
from scheduler.season.level_notes import this_year_text
from scheduler.season.levels import OUTDOOR_TARGETS, LevelSource, WhichWeather
from scheduler.season.presence import GATHERING
from scheduler.season.record import concerned, label_use, wished
from scheduler.season.season import Season
from scheduler.season.states import Run, State, all_runs, spans_in_state, state_of
from scheduler.season.stock import Supply, keeps_until, open_day_before, supplies
from scheduler.season.weights import Weight, age_days
from scheduler.season.withdrawal import Period, clear_day

__all__ = [
    "GATHERING",
    "OUTDOOR_TARGETS",
    "Cohort",
    "Course",
    "Cover",
    "Dose",
    "Doses",
    "LevelSource",
    "Origin",
    "Period",
    "Run",
    "SaleBar",
    "Season",
    "State",
    "Supply",
    "Weight",
    "WhichWeather",
    "age_days",
    "all_runs",
    "clear_day",
    "concerned",
    "ends",
    "export_binds",
    "is_for_meat",
    "keeps_until",
    "label_use",
    "meat_days",
    "milk_days",
    "open_day_before",
    "planning_days",
    "sale_bar",
    "spans_in_state",
    "state_of",
    "supplies",
    "this_year_text",
    "wished",
]
