"""The calendar as it is served to those who subscribe: calendar.ics, how often to come back, and a notice."""

import re
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from uuid import UUID, uuid5

NAMESPACE = UUID("0c9a2c35-5c0e-4d0b-8b8f-6a3d2f7f4e11")
"""Root of the notices' uids (RFC 9562, 5.5; RFC 7986, 5.3)."""
COME_BACK = b"REFRESH-INTERVAL;VALUE=DURATION:PT1H\r\nX-PUBLISHED-TTL:PT1H\r\n"
"""RFC 7986, 5.7, and the same for readers that only know the older name (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Notice:
    """Why the calendar was not renewed, as an event of one day. farm: a word by which this feed's notices are known."""

    farm: str
    day: date
    since: datetime
    text: str


def feed_ics(calendar: bytes, notice: Notice | None = None) -> bytes:
    """The bytes of calendar.ics, asking to be fetched again each hour, with the notice as its first event."""
    head, middle, events = _parts(calendar)
    return head + COME_BACK + middle + (b"" if notice is None else _event(notice)) + events


def is_calendar(data: bytes) -> bool:
    """Whether these are the bytes of a whole calendar (RFC 5545, 3.4)."""
    return data.startswith(b"BEGIN:VCALENDAR\r\n") and data.endswith(b"\r\nEND:VCALENDAR\r\n")


def _parts(calendar: bytes) -> tuple[bytes, bytes, bytes]:
    """The calendar's own properties; what else stands before the first event; the rest. A line begins no other way."""
    first = re.search(rb"^(?:BEGIN:(?!VCALENDAR)|END:VCALENDAR)", calendar, re.MULTILINE)
    event = re.search(rb"^(?:BEGIN:VEVENT|END:VCALENDAR)", calendar, re.MULTILINE)
    if first is None or event is None:
        raise ValueError("no whole calendar")
    return calendar[: first.start()], calendar[first.start() : event.start()], calendar[event.start() :]


def _event(notice: Notice) -> bytes:
    """The notice: all day, without alarm, and the day stays free. On another day it is another event."""
    from icalendar import Event

    event = Event()
    event.add("uid", str(uuid5(NAMESPACE, f"{notice.farm} {notice.day.isoformat()}")))
    event.add("dtstamp", notice.since.astimezone(UTC))
    event.add("dtstart", notice.day)
    event.add("dtend", notice.day + timedelta(days=1))
    event.add("status", "CONFIRMED")
    event.add("transp", "TRANSPARENT")
    event.add("categories", ["notice"])
    event.add("summary", "Season plan not renewed: look at the farm folder")
    event.add("description", notice.text)
    return bytes(event.to_ical(sorted=False))
