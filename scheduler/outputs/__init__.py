"""The outputs: the season report in, text or bytes out."""

from scheduler.outputs.calendar import calendar_ics, is_ours
from scheduler.outputs.calendars import TASK_KINDS, CalendarSet, calendar_files
from scheduler.outputs.changes import changes_json
from scheduler.outputs.csv import tasks_csv
from scheduler.outputs.dose import dose_json, dose_text
from scheduler.outputs.feed import Notice, feed_ics, is_calendar
from scheduler.outputs.html import summary_html
from scheduler.outputs.json import Value, conflict_value, frontier_json, json_text, plan_json, plan_value
from scheduler.outputs.label_sheet import label_html
from scheduler.outputs.past_years import past_years_text, years_json
from scheduler.outputs.risk import risk_json, risk_text
from scheduler.outputs.risk_plot import risk_png
from scheduler.outputs.schema import schema_text
from scheduler.outputs.screen import Line, Paragraph, lines_text, table_lines
from scheduler.outputs.text import conflicts_text, plan_text
from scheduler.outputs.trade import trade_text
from scheduler.outputs.why import why_json, why_text

__all__ = [
    "TASK_KINDS",
    "CalendarSet",
    "Line",
    "Notice",
    "Paragraph",
    "Value",
    "calendar_files",
    "calendar_ics",
    "changes_json",
    "conflict_value",
    "conflicts_text",
    "dose_json",
    "dose_text",
    "feed_ics",
    "frontier_json",
    "is_calendar",
    "is_ours",
    "json_text",
    "label_html",
    "lines_text",
    "past_years_text",
    "plan_json",
    "plan_text",
    "plan_value",
    "risk_json",
    "risk_png",
    "risk_text",
    "schema_text",
    "summary_html",
    "table_lines",
    "tasks_csv",
    "trade_text",
    "why_json",
    "why_text",
    "years_json",
]
