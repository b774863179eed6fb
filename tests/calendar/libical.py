"""libical, the C library that calendars of many desktops and phones rest on, called as it is (its own structures)."""

import ctypes
import os
from ctypes import Structure, c_char_p, c_int, c_uint, c_void_p
from ctypes.util import find_library
from datetime import date
from functools import cache
from typing import Any

import pytest

TIME_PARTS = ("year", "month", "day", "hour", "minute", "second", "is_date", "is_daylight")
SPAN_PARTS = ("days", "weeks", "hours", "minutes", "seconds")


class Time(Structure):
    """icaltimetype of libical 3."""

    _fields_ = [*((name, c_int) for name in TIME_PARTS), ("zone", c_void_p)]


class Span(Structure):
    """icaldurationtype of libical 3."""

    _fields_ = [("is_neg", c_int), *((name, c_uint) for name in SPAN_PARTS)]


class Trigger(Structure):
    """icaltriggertype of libical 3."""

    _fields_ = [("time", Time), ("duration", Span)]


@cache
def _library() -> Any:
    found = find_library("ical")
    if found is None:
        if "CI" in os.environ:
            pytest.fail("libical is not installed")
        pytest.skip("needs libical 3")
    library = ctypes.CDLL(found)
    for name, result, arguments in (
        ("icalparser_parse_string", c_void_p, [c_char_p]),
        ("icalcomponent_string_to_kind", c_int, [c_char_p]),
        ("icalproperty_string_to_kind", c_int, [c_char_p]),
        ("icalcomponent_get_first_component", c_void_p, [c_void_p, c_int]),
        ("icalcomponent_get_next_component", c_void_p, [c_void_p, c_int]),
        ("icalcomponent_get_first_property", c_void_p, [c_void_p, c_int]),
        ("icalcomponent_count_errors", c_int, [c_void_p]),
        ("icalrestriction_check", c_int, [c_void_p]),
        ("icalcomponent_get_uid", c_char_p, [c_void_p]),
        ("icalcomponent_get_summary", c_char_p, [c_void_p]),
        ("icalcomponent_get_description", c_char_p, [c_void_p]),
        ("icalcomponent_get_sequence", c_int, [c_void_p]),
        ("icalcomponent_get_dtstart", Time, [c_void_p]),
        ("icalcomponent_get_dtend", Time, [c_void_p]),
        ("icalproperty_get_value_as_string", c_char_p, [c_void_p]),
        ("icalproperty_get_trigger", Trigger, [c_void_p]),
        ("icaldurationtype_as_int", c_int, [Span]),
        ("icalcomponent_free", None, [c_void_p]),
    ):
        function = getattr(library, name)
        function.restype, function.argtypes = result, arguments
    return library


def events(calendar: bytes) -> list[dict[str, Any]]:
    """The events of a calendar in which the library finds no error, and no rule of RFC 5545 or RFC 5546 broken."""
    library = _library()
    root = library.icalparser_parse_string(calendar)
    assert root
    try:
        assert library.icalcomponent_count_errors(root) == 0
        assert library.icalrestriction_check(root) == 1
        assert library.icalcomponent_count_errors(root) == 0
        return [_event(one) for one in _inside(root, b"VEVENT")]
    finally:
        library.icalcomponent_free(root)


def _inside(component: int, kind: bytes) -> list[int]:
    library = _library()
    number = library.icalcomponent_string_to_kind(kind)
    found, one = [], library.icalcomponent_get_first_component(component, number)
    while one:
        found.append(one)
        one = library.icalcomponent_get_next_component(component, number)
    return found


def _event(event: int) -> dict[str, Any]:
    library = _library()
    return {
        "uid": library.icalcomponent_get_uid(event).decode(),
        "first": _day(library.icalcomponent_get_dtstart(event)),
        "after": _day(library.icalcomponent_get_dtend(event)),
        "summary": library.icalcomponent_get_summary(event).decode(),
        "description": library.icalcomponent_get_description(event).decode(),
        "status": library.icalproperty_get_value_as_string(_property(event, b"STATUS")).decode(),
        "sequence": library.icalcomponent_get_sequence(event),
        "alarms": tuple(_seconds(alarm) for alarm in _inside(event, b"VALARM")),
    }


def _property(component: int, name: bytes) -> int:
    library = _library()
    found: int = library.icalcomponent_get_first_property(component, library.icalproperty_string_to_kind(name))
    return found


def _day(time: Time) -> date:
    assert time.is_date
    return date(time.year, time.month, time.day)


def _seconds(alarm: int) -> int:
    library = _library()
    trigger = library.icalproperty_get_trigger(_property(alarm, b"TRIGGER"))
    seconds: int = library.icaldurationtype_as_int(trigger.duration)
    return seconds
