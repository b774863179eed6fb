"""Calendars of many events, and a phone that edits a calendar on the server by plain requests."""

import base64
import re
import urllib.error
import urllib.request
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

ZONE = "Europe/London"
FIRST = date(2027, 5, 1)


def event_text(uid: str, day: date, title: str = "Dose Ewes", status: str = "CONFIRMED", extra: str = "") -> str:
    """One event as calendar.ics has it, with a reminder."""
    return (
        f"BEGIN:VEVENT\r\nUID:{uid}\r\nDTSTAMP:20270501T000000Z\r\nDTSTART;VALUE=DATE:{day:%Y%m%d}\r\n"
        f"DTEND;VALUE=DATE:{day + timedelta(days=1):%Y%m%d}\r\nSEQUENCE:0\r\nSTATUS:{status}\r\n"
        f"TRANSP:TRANSPARENT\r\nCATEGORIES:dose\r\nSUMMARY:{title}\r\nDESCRIPTION:20 ml a head\\, slowly\\; wait.\r\n"
        f"{extra}BEGIN:VALARM\r\nACTION:DISPLAY\r\nDESCRIPTION:{title}\r\nTRIGGER:-PT6H\r\nEND:VALARM\r\nEND:VEVENT\r\n"
    )


def calendar_text(events: Iterable[str]) -> str:
    """A calendar of these events."""
    return f"BEGIN:VCALENDAR\r\nPRODID:-//test//EN\r\nVERSION:2.0\r\n{''.join(events)}END:VCALENDAR\r\n"


def many(count: int) -> str:
    """A calendar of so many events, over a season of a hundred days."""
    return calendar_text(
        event_text(f"dose-{n}", FIRST + timedelta(days=n % 100), f"Dose lot {n}") for n in range(count)
    )


@dataclass(frozen=True)
class Phone:
    """Another client of one calendar: it reads, edits, adds and deletes events by their file names."""

    address: str
    user: str
    password: str = "secret"

    def ask(self, method: str, name: str = "", body: str | None = None, **headers: str) -> str:
        """The body of the answer."""
        login = base64.b64encode(f"{self.user}:{self.password}".encode()).decode()
        request = urllib.request.Request(self.address + name, None if body is None else body.encode(), method=method)
        request.add_header("Authorization", f"Basic {login}")
        for header, value in headers.items():
            request.add_header(header.replace("_", "-"), value)
        with urllib.request.urlopen(request, timeout=20) as answer:
            return str(answer.read().decode())

    def read(self, uid: str) -> str:
        """An event as it stands there, unfolded."""
        return _unfolded(self.ask("GET", f"{uid}.ics"))

    def has(self, uid: str) -> bool:
        """Whether there is such an event."""
        try:
            self.ask("GET", f"{uid}.ics")
        except urllib.error.HTTPError as error:
            if error.code == 404:
                return False
            raise
        return True

    def edit(self, uid: str, *changes: tuple[str, str]) -> None:
        """Changes an event by patterns and what stands in their place."""
        text = self.read(uid)
        for pattern, new in changes:
            text, count = re.subn(pattern, new, text, count=1, flags=re.MULTILINE)
            assert count, f"{pattern} is not in {text}"
        self.ask("PUT", f"{uid}.ics", text, Content_Type="text/calendar; charset=utf-8")

    def move(self, uid: str, day: date) -> None:
        """Drags an event to another day, as a phone does: both ends, and a higher sequence."""
        days = [("DTSTART", day), ("DTEND", day + timedelta(days=1))]
        edits = [(rf"^{name}.*$", f"{name};VALUE=DATE:{one:%Y%m%d}") for name, one in days]
        self.edit(uid, *edits, (r"^SEQUENCE:\d+", "SEQUENCE:7"))

    def delete(self, uid: str) -> None:
        """Deletes an event."""
        self.ask("DELETE", f"{uid}.ics")

    def all(self) -> str:
        """The whole calendar, unfolded."""
        return _unfolded(self.ask("GET"))


def _unfolded(text: str) -> str:
    return re.sub(r"\n[ \t]", "", text.replace("\r\n", "\n"))
