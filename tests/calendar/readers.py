"""Calendar readers that are not ours, each made to say the same of an event; none shares code with the writer.

icalendar, ics and vobject are libraries of Python; ical.js reads calendars in JavaScript, libical in C.
"""

import json
import os
import shutil
import subprocess
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import icalendar
import ics
import pytest
import vobject

from tests.calendar.libical import events as libical_events

HERE = Path(__file__).parent
ROOT = HERE.parent.parent


@dataclass(frozen=True)
class Seen:
    """An event as a reader has it. after: the first day after it; alarms: seconds from the first day's midnight."""

    uid: str
    first: date
    after: date
    summary: str
    description: str
    status: str
    sequence: int
    alarms: tuple[int, ...]


Calendars = Sequence[bytes]
Reader = Callable[[Calendars], list[list[Seen]]]


def each(read: Callable[[bytes], list[Seen]]) -> Reader:
    """A reader of many calendars, from one that reads them one by one."""
    return lambda calendars: [read(calendar) for calendar in calendars]


def whole(span: timedelta) -> int:
    """Whole seconds of a span."""
    return round(span.total_seconds())


def by_icalendar(calendar: bytes) -> list[Seen]:
    """As icalendar has it."""
    found: list[Any] = icalendar.Calendar.from_ical(calendar).walk("VEVENT")
    return [
        Seen(str(one["UID"]), one["DTSTART"].dt, one["DTEND"].dt, str(one["SUMMARY"]), str(one["DESCRIPTION"]),
             str(one["STATUS"]), int(one["SEQUENCE"]),
             tuple(whole(alarm["TRIGGER"].dt) for alarm in one.walk("VALARM")))
        for one in found
    ]  # fmt: skip


def by_vobject(calendar: bytes) -> list[Seen]:
    """As vobject has it."""
    found: list[Any] = vobject.readOne(calendar.decode()).contents.get("vevent", [])
    return [
        Seen(one.uid.value, one.dtstart.value, one.dtend.value, one.summary.value, one.description.value,
             one.status.value, int(one.sequence.value),
             tuple(whole(alarm.trigger.value) for alarm in one.contents.get("valarm", [])))
        for one in found
    ]  # fmt: skip


def by_ics(calendar: bytes) -> list[Seen]:
    """As ics has it: events and alarms in no order, and an end that is the last day of an all-day event."""
    found = sorted(ics.Calendar(calendar.decode()).events, key=lambda one: one.uid)
    assert all(one.all_day for one in found)
    return [
        Seen(one.uid, one.begin.date(), one.begin.date() + one.duration, one.name, one.description, one.status,
             int(next(line.value for line in one.extra if line.name == "SEQUENCE")),
             tuple(sorted(whole(alarm.trigger) for alarm in one.alarms)))
        for one in found
    ]  # fmt: skip


def by_ical_js(calendars: Calendars) -> list[list[Seen]]:
    """As ical.js has it, all calendars at once."""
    if shutil.which("node") is None or not (ROOT / "node_modules" / "ical.js").is_dir():
        if "CI" in os.environ:
            pytest.fail("ical.js is not installed: run npm install")
        pytest.skip("needs node and ical.js: npm install")
    texts = json.dumps([calendar.decode() for calendar in calendars])
    command = ["node", str(HERE / "read_calendars.mjs")]
    done = subprocess.run(command, input=texts, capture_output=True, text=True, check=True, cwd=ROOT)
    return [[_of_json(uid, one) for uid, one in events] for events in json.loads(done.stdout)]


def _of_json(uid: str, one: dict[str, Any]) -> Seen:
    first, after = (date.fromisoformat(one[end]) for end in ("first", "after"))
    return Seen(uid, first, after, one["summary"], one["description"], one["status"], one["sequence"],
                tuple(one["alarms"]))  # fmt: skip


def by_libical(calendar: bytes) -> list[Seen]:
    """As libical has it, which has to find no error of its own."""
    return [Seen(**one) for one in libical_events(calendar)]


READERS: dict[str, Reader] = {
    "icalendar": each(by_icalendar),
    "ics": each(by_ics),
    "vobject": each(by_vobject),
    "ical.js": by_ical_js,
    "libical": each(by_libical),
}
