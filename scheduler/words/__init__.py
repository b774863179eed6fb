"""The small vocabulary that everyone shares: places, faults, spans of days, word lists, exact rounding."""

from scheduler.words.exact import less, times, total
from scheduler.words.fault import Fault, Faults
from scheduler.words.rounding import ceil_to_step, half_up, two_decimals
from scheduler.words.say import say_day, say_days, say_number
from scheduler.words.shipped import package_text, shipped
from scheduler.words.span import Span, days_of, plus, spans_of
from scheduler.words.terms import (
    EVENT_KINDS,
    FORMS,
    KINDS,
    PURPOSES,
    TARGETS,
    EventKind,
    Form,
    Kind,
    Purpose,
    Severity,
    Target,
)
from scheduler.words.where import Where

__all__ = [
    "EVENT_KINDS",
    "FORMS",
    "KINDS",
    "PURPOSES",
    "TARGETS",
    "EventKind",
    "Fault",
    "Faults",
    "Form",
    "Kind",
    "Purpose",
    "Severity",
    "Span",
    "Target",
    "Where",
    "ceil_to_step",
    "days_of",
    "half_up",
    "less",
    "package_text",
    "plus",
    "say_day",
    "say_days",
    "say_number",
    "shipped",
    "spans_of",
    "times",
    "total",
    "two_decimals",
]
