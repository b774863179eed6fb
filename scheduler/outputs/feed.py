"""The calendar as it is served to those who subscribe: calendar.ics, how often to come back, and a notice."""

import re
from collections.abc import Collection
from datetime import UTC, date, datetime, timedelta
from uuid import UUID, uuid5

from msgspec import Struct

from scheduler.outputs.calendar import NO_EVENT
from scheduler.outputs.content_lines import octets, text_line

NAMESPACE = UUID("0c9a2c35-5c0e-4d0b-8b8f-6a3d2f7f4e11")
"""Root of the notices' uids (RFC 9562, 5.5; RFC 7986, 5.3)."""
COME_BACK = b"REFRESH-INTERVAL;VALUE=DURATION:PT1H\r\nX-PUBLISHED-TTL:PT1H\r\n"
"""RFC 7986, 5.7, and the same for readers that only know the older name (common practice, no source)."""

EVENT = re.compile(rb"^BEGIN:VEVENT\r\n.*?^CATEGORIES:(?P<kind>[^\r]*)\r\n.*?^END:VEVENT\r\n", re.MULTILINE | re.DOTALL)


class Notice(Struct, frozen=True):
    """Why the calendar was not renewed, as an event of one day. farm: a word by which this feed's notices are known."""

    farm: str
    day: date
    since: datetime
    text: str


def feed_ics(calendar: bytes, notice: Notice | None = None, only: Collection[str] = ()) -> bytes:
    """The bytes of calendar.ics, asking to be fetched again each hour, with the notice as its first event.

    only: the kinds of task that are served, where not all; last safe days are no tasks and then left out.
    """
    head, middle, rest = _parts(calendar)
    if only:
        rest = EVENT.sub(lambda event: event[0] if event["kind"].decode() in only else b"", rest)
    first = b"" if notice is None else _event(notice)
    if not middle + first and rest.startswith(b"END"):
        middle = octets(NO_EVENT)
    return head + COME_BACK + middle + first + rest


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
    return octets(
        (
            "BEGIN:VEVENT",
            f"UID:{uuid5(NAMESPACE, f'{notice.farm} {notice.day.isoformat()}')}",
            f"DTSTAMP:{notice.since.astimezone(UTC):%Y%m%dT%H%M%SZ}",
            f"DTSTART;VALUE=DATE:{notice.day:%Y%m%d}",
            f"DTEND;VALUE=DATE:{notice.day + timedelta(days=1):%Y%m%d}",
            "STATUS:CONFIRMED",
            "TRANSP:TRANSPARENT",
            "CATEGORIES:notice",
            "SUMMARY:Season plan not renewed: look at the farm folder",
            text_line("DESCRIPTION", notice.text),
            "END:VEVENT",
        )
    )
