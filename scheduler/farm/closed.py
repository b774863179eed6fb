"""Days on which no work is done: single days, weekdays, and rules as calendars write them."""

import re
from collections.abc import Iterator
from datetime import date, datetime, time
from itertools import takewhile

from scheduler.farm.model import ClosedDays
from scheduler.tables import Cell, day, range_of, shown
from scheduler.words import Fault, days_of, plus

_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_EVERY = re.compile(rf"every\s+({'|'.join(_WEEKDAYS)})", re.IGNORECASE)
_NUMBERS = r"[+-]?[0-9]{1,3}(?:,[+-]?[0-9]{1,3}){0,99}"
_WEEKDAY = r"(?:[+-]?[0-9]{1,2})?(?:MO|TU|WE|TH|FR|SA|SU)"
_MEND = 'write, for example, "2027-06-12", "every Sunday" or "FREQ=YEARLY;BYMONTH=8;BYMONTHDAY=1"'
_PARTS = {
    "FREQ": r"DAILY|WEEKLY|MONTHLY|YEARLY",
    "INTERVAL": r"[1-9][0-9]{0,3}",
    "COUNT": r"[1-9][0-9]{0,4}",
    "UNTIL": r"[0-9]{8}(?:T[0-9]{6})?",
    "BYDAY": rf"{_WEEKDAY}(?:,{_WEEKDAY}){{0,99}}",
    "BYMONTHDAY": _NUMBERS,
    "BYYEARDAY": _NUMBERS,
    "BYWEEKNO": _NUMBERS,
    "BYMONTH": _NUMBERS,
    "BYSETPOS": _NUMBERS,
    "WKST": r"MO|TU|WE|TH|FR|SA|SU",
}


class ClosedReader:
    """Reads entries of work.closed for a season from `start` to `end`.

    Tasks fall a while before and after the season too, so weekdays are closed from a year before it, and rules, which
    begin at `start`, run on for a year after it. A rule that never names a day takes long to find out (calendars run
    to the year 9999), so after one such the rules that follow are not looked at.
    """

    def __init__(self, start: date, end: date) -> None:
        self._start = start
        year = int(range_of("season_days").most)
        self._from, self._to = plus(start, -year), plus(end, year)
        self._empty_rule_met = False

    def __call__(self, cell: Cell) -> ClosedDays | Fault:
        if not isinstance(cell.value, str):
            return self._single(cell, str(cell.value))
        text = cell.value.strip()
        every = _EVERY.fullmatch(text)
        if every:
            weekday = _WEEKDAYS.index(every[1].lower())
            days = frozenset(one for one in days_of(self._from, self._to) if one.weekday() == weekday)
            return ClosedDays(text=text, days=days, where=cell.where)
        return self._rule(cell, text) if "=" in text else self._single(cell, text)

    def _single(self, cell: Cell, text: str) -> ClosedDays | Fault:
        single = day(cell)
        if isinstance(single, Fault):
            return cell.fault("expected a day, a weekday or a rule (RRULE of RFC 5545)", _MEND)
        return ClosedDays(text=text, days=frozenset({single}), where=cell.where)

    def _rule(self, cell: Cell, text: str) -> ClosedDays | Fault:
        rule = text.upper().removeprefix("RRULE:")
        wrong = _wrong_part(rule)
        if wrong is not None:
            return cell.fault(f"expected a rule by days (RRULE of RFC 5545); {wrong}", _MEND)
        if self._empty_rule_met:
            return ClosedDays(text=text, days=frozenset(), where=cell.where)
        try:
            named = _days_of_rule(rule, self._start)
            first = next(named, None)
            days = frozenset(takewhile(lambda one: one <= self._to, named)) | {first} if first else frozenset()
        except ValueError as error:
            return cell.fault(f"expected a rule by days (RRULE of RFC 5545); {error}", _MEND)
        if first is None:
            self._empty_rule_met = True
            return cell.fault("expected a rule that names a day from the season's start on", "mend or delete it")
        return ClosedDays(text=text, days=days, where=cell.where)


def _wrong_part(text: str) -> str | None:
    """What is wrong with the wording of a rule, or None."""
    parts = [part.partition("=") for part in text.split(";")]
    names = [name for name, _, _ in parts]
    for name, _, value in parts:
        if name not in _PARTS:
            return f"{shown(name)} is no part of a rule by days"
        if names.count(name) > 1:
            return f"{name} stands there twice"
        if not re.fullmatch(_PARTS[name], value):
            return f"{shown(value)} is no {name} by days"
    if "FREQ" not in names:
        return "FREQ is missing"
    return "it may have COUNT or UNTIL, not both" if {"COUNT", "UNTIL"} <= set(names) else None


def _days_of_rule(text: str, start: date) -> Iterator[date]:
    from dateutil.rrule import rrulestr

    rule = rrulestr(text, dtstart=datetime.combine(start, time()))
    return (one.date() for one in rule)
