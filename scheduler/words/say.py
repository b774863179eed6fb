"""Dates and figures as sentences write them; no locale is asked."""

from datetime import date
from decimal import Decimal

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def say_day(day: date) -> str:
    """A date as print has it: 20 Aug 2027."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def say_number(value: Decimal) -> str:
    """A number without needless zeros: 22.5, 600."""
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def say_days(days: int) -> str:
    """A count of days: 1 day, 8 days."""
    return f"{days} day" if days == 1 else f"{days} days"
