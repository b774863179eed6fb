"""The plan and a calendar server: what is sent to it, and what it answers back."""

from scheduler.exchange.answers import Answers, Heard, answers_of
from scheduler.exchange.connection import Connection, OutOfReach
from scheduler.exchange.event import Event, Sent, events_of
from scheduler.exchange.hearing import heard_file, heard_server
from scheduler.exchange.planned import is_for, planned_events, refused_wishes, wanted_of
from scheduler.exchange.push import LeftThere, Outcome, Wanted, push
from scheduler.exchange.rows import Row, WishRows, record_rows, row_text, wish_rows
from scheduler.exchange.sending import Ours
from scheduler.exchange.server import ChangedThere, Place, Server
from scheduler.exchange.state import STATE_FILE, Known, State, read_state, state_json
from scheduler.exchange.words import pull_lines, pull_value, push_lines, push_value, rows_lines

__all__ = [
    "STATE_FILE",
    "Answers",
    "ChangedThere",
    "Connection",
    "Event",
    "Heard",
    "Known",
    "LeftThere",
    "Ours",
    "OutOfReach",
    "Outcome",
    "Place",
    "Row",
    "Sent",
    "Server",
    "State",
    "Wanted",
    "WishRows",
    "answers_of",
    "events_of",
    "heard_file",
    "heard_server",
    "is_for",
    "planned_events",
    "pull_lines",
    "pull_value",
    "push",
    "push_lines",
    "push_value",
    "read_state",
    "record_rows",
    "refused_wishes",
    "row_text",
    "rows_lines",
    "state_json",
    "wanted_of",
    "wish_rows",
]
