"""An event of a calendar as it is compared: on which day, with which words, and what the plan last sent of it."""

import re
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from hashlib import sha256
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from msgspec import Struct

if TYPE_CHECKING:
    from icalendar import Event as Component

SENT = "X-SEASON-SENT"
"""What was last sent, within the event: a server keeps such a property (RFC 4791, 5.3.3), and most clients do."""
DONE_WORDS = ("done", "completed")
"""Categories, and beginnings of a title, by which a keeper marks an event as done."""
DONE_TITLE = re.compile(r"\s*(?:[✓✔☑]\ufe0f?|\[[xX]\]|done\b\s*[:,.-]?)\s*", re.IGNORECASE)
DIGEST_LETTERS = 16


class Sent(Struct, frozen=True):
    """What was last sent of an event: the plan's day, and digests of its words, and of words and reminders."""

    day: date
    words: str
    whole: str

    def __str__(self) -> str:
        return f"{self.day.isoformat()} {self.words} {self.whole}"


class Event(Struct, frozen=True, kw_only=True):
    """One event. `day`: where it stands, in the farm's zone. words: digest of all that it says but its day and marks.

    whole: digest of words and reminders. is_plain: all day, for one day, once, as we write events. sent: what the event
    itself says was last sent of it.
    """

    uid: str
    day: date
    title: str
    kind: str
    words: str
    whole: str
    sequence: int = 0
    is_plain: bool = True
    is_done: bool = False
    is_cancelled: bool = False
    sent: Sent | None = None
    component: "Component"

    @property
    def as_sent(self) -> Sent:
        """What is sent where this event is."""
        return Sent(self.day, self.words, self.whole)


def sent_of(text: str) -> Sent | None:
    """What the property says; None where it is none of ours."""
    parts = text.split(" ")
    try:
        return Sent(date.fromisoformat(parts[0]), *parts[1:]) if len(parts) == 3 else None
    except ValueError:
        return None


def events_of(calendar: bytes | str, timezone: str) -> dict[str, Event]:
    """The events of a calendar by uid; ValueError where it is none. What cannot be read of it is left out.

    Of several events with one uid (a series with exceptions) the first stands for all, and is not plain.
    """
    from icalendar import Calendar

    found: dict[str, list[Component]] = {}
    try:
        calendars: Any = Calendar.from_ical(calendar, multiple=True)
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError) as error:
        raise ValueError("no calendar") from error
    if not any(one.name == "VCALENDAR" for one in calendars):
        raise ValueError("no calendar")
    for one in calendars:
        for component in one.walk("VEVENT"):
            found.setdefault(str(component.get("UID", "")), []).append(component)
    zone = ZoneInfo(timezone)
    read = {uid: _event(uid, same, zone) for uid, same in found.items() if uid}
    return {uid: event for uid, event in read.items() if event is not None}


def event_of(component: "Component") -> Event:
    """An event that we have made: all day."""
    made = _event(str(component["UID"]), [component], ZoneInfo("UTC"))
    if made is None:
        raise ValueError("an event without a day")
    return made


def _event(uid: str, same: "list[Component]", zone: ZoneInfo) -> Event | None:
    component: Any = next((one for one in same if "RECURRENCE-ID" not in one), same[0])
    start = _value(component, "DTSTART")
    if not isinstance(start, date):
        return None
    title, is_ticked = _title(_text(component, "SUMMARY"))
    categories = _categories(component)
    status = _text(component, "STATUS").upper()
    marks = [one for one in categories if one.casefold() in DONE_WORDS]
    words = _digest(
        title, _text(component, "DESCRIPTION"), "CANCELLED" if status == "CANCELLED" else "CONFIRMED",
        sorted(set(categories) - set(marks)), _text(component, "RELATED-TO"),
    )  # fmt: skip
    return Event(
        uid=uid,
        day=_day(start, zone),
        title=title,
        kind=next((one for one in categories if one not in marks), ""),
        words=words,
        whole=_digest(words, sorted(_alarms(component))),
        sequence=_whole(component.get("SEQUENCE", 0)),
        is_plain=len(same) == 1 and not {"RRULE", "RDATE"} & set(component) and _is_one_day(component, start),
        is_done=is_ticked or bool(marks) or status == "COMPLETED",
        is_cancelled=status == "CANCELLED",
        sent=sent_of(_text(component, SENT)),
        component=component,
    )


def _value(component: Any, name: str) -> object:
    """The day or time of a property; None where it is absent or cannot be read."""
    try:
        return getattr(component.get(name), "dt", None)
    except ValueError:
        return None


def _text(component: Any, name: str) -> str:
    """A property as text, the first where it stands there twice; its line breaks as one kind."""
    found = component.get(name, "")
    text = str(found[0] if isinstance(found, list) and found else found)
    return text.replace("\r\n", "\n").strip()


def _title(text: str) -> tuple[str, bool]:
    """The title without a mark of being done, and whether there was one."""
    mark = DONE_TITLE.match(text)
    return (text[mark.end() :], True) if mark else (text, False)


def _categories(component: Any) -> list[str]:
    found = component.get("CATEGORIES", [])
    lists = found if isinstance(found, list) else [found]
    return [str(one).strip() for part in lists for one in getattr(part, "cats", [part]) if str(one).strip()]


def _alarms(component: Any) -> Iterator[str]:
    for alarm in component.walk("VALARM"):
        yield f"{alarm.get('ACTION', '')} {_value(alarm, 'TRIGGER')}"


def _whole(value: object) -> int:
    try:
        return int(str(value))
    except ValueError:
        return 0


def _day(start: date, zone: ZoneInfo) -> date:
    """A time with a zone of its own counts on the day there; one in universal time on that of the farm."""
    if not isinstance(start, datetime):
        return start
    return start.astimezone(zone).date() if start.tzinfo is not None and _is_universal(start) else start.date()


def _is_universal(start: datetime) -> bool:
    return start.tzinfo is UTC or str(start.tzinfo) in ("UTC", "Etc/UTC")


def _is_one_day(component: Any, start: date) -> bool:
    if isinstance(start, datetime):
        return False
    end, length = _value(component, "DTEND"), _value(component, "DURATION")
    return (end is None and length is None) or end == start + timedelta(days=1) or length == timedelta(days=1)


def _digest(*parts: object) -> str:
    return sha256(repr(parts).encode("utf-8", "replace")).hexdigest()[:DIGEST_LETTERS]
