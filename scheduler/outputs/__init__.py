"""The outputs: the season report in, text or bytes out."""

from scheduler.outputs.calendar import calendar_ics
from scheduler.outputs.csv import tasks_csv
from scheduler.outputs.html import summary_html
from scheduler.outputs.json import Value, conflict_value, frontier_json, json_text, plan_json, plan_value
from scheduler.outputs.schema import schema_text
from scheduler.outputs.text import conflicts_text, plan_text

__all__ = [
    "Value",
    "calendar_ics",
    "conflict_value",
    "conflicts_text",
    "frontier_json",
    "json_text",
    "plan_json",
    "plan_text",
    "plan_value",
    "schema_text",
    "summary_html",
    "tasks_csv",
]
