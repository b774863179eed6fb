"""Faults sown into a lawful calendar, each with the rule that it breaks."""

from collections.abc import Callable
from typing import NamedTuple

Sow = Callable[[bytes], bytes]
EVENT = b"BEGIN:VEVENT\r\n"
ALARM = b"BEGIN:VALARM\r\n"
LAST = b"END:VCALENDAR\r\n"


class Seed(NamedTuple):
    """What is wrong, the rule that is broken, and how it is sown."""

    what: str
    rule: str
    sow: Sow


def swap(old: bytes, new: bytes) -> Sow:
    """The first `old` made `new`."""

    def sow(calendar: bytes) -> bytes:
        assert old in calendar, old
        return calendar.replace(old, new, 1)

    return sow


def drop(start: bytes, after: bytes = EVENT) -> Sow:
    """Without the first unfolded line that begins so, within the first component that begins with `after`."""

    def sow(calendar: bytes) -> bytes:
        begin = calendar.index(start, calendar.index(after) if after else 0)
        return calendar[:begin] + calendar[calendar.index(b"\r\n", begin) + 2 :]

    return sow


def add(line: bytes, after: bytes = EVENT) -> Sow:
    """With one more line at the head of the first such component."""
    return swap(after, after + line + b"\r\n")


def head(line: bytes) -> Sow:
    """With one more property of the calendar."""
    return swap(b"VERSION:2.0\r\n", b"VERSION:2.0\r\n" + line + b"\r\n")


def tail(*lines: bytes) -> Sow:
    """With more lines before the end of the calendar."""
    return swap(LAST, b"".join(line + b"\r\n" for line in lines) + LAST)


ZONE = (b"BEGIN:VTIMEZONE", b"TZID:Here", b"BEGIN:STANDARD", b"DTSTART:19700101T000000", b"TZOFFSETFROM:+0100",
        b"TZOFFSETTO:+0100", b"END:STANDARD", b"END:VTIMEZONE")  # fmt: skip
LONG = b"COMMENT:" + b"x" * 68
REFRESH = b"REFRESH-INTERVAL;VALUE=DURATION:PT1H"
START = b"DTSTART;VALUE=DATE:2"

SEEDS = (
    Seed("line feeds alone", "break", lambda calendar: calendar.replace(b"\r\n", b"\n")),
    Seed("one CR alone", "break", swap(b"TRANSP:TRANSPARENT\r\n", b"TRANSP:TRANSPARENT\r\r\n")),
    Seed("no break at the end", "break", lambda calendar: calendar.removesuffix(b"\r\n")),
    Seed("76 octets", "long-line", add(LONG)),
    Seed("26 letters of three octets", "long-line", add(b"COMMENT:" + "€".encode() * 23)),
    Seed("a fold within a letter", "split-character", add(b"COMMENT:\xc3\r\n \xa9")),
    Seed("Latin-1", "utf-8", add(b"COMMENT:caf\xe9")),
    Seed("a byte order mark", "utf-8", lambda calendar: b"\xef\xbb\xbf" + calendar),
    Seed("an empty line", "grammar", add(b"")),
    Seed("a line without colon", "grammar", add(b"COMMENT")),
    Seed("a space in a name", "grammar", add(b"MY COMMENT:x")),
    Seed("a parameter without value", "grammar", add(b"COMMENT;LANGUAGE:x")),
    Seed("a bell", "control", add(b"COMMENT:\x07")),
    Seed("a parameter twice", "parameter-twice", add(b"COMMENT;LANGUAGE=en;LANGUAGE=de:x")),
    Seed("a parameter that is none", "parameter-unknown", add(b"COMMENT;COLOUR=red:x")),
    Seed("a property that is none", "property-unknown", add(b"REMARK:x")),
    Seed("a type that the property may not have", "value-type", add(b"URL;VALUE=TEXT:x")),
    Seed("31 June", "date", swap(START, b"DTSTART;VALUE=DATE:20270631\r\nX-OLD:2")),
    Seed("a date with hyphens", "date", swap(START, b"DTSTART;VALUE=DATE:2027-06-01\r\nX-OLD:2")),
    Seed("a date where a time belongs", "date-time", swap(b";VALUE=DATE:", b":")),
    Seed("25 o'clock", "date-time", add(b"CREATED:20270101T250000Z")),
    Seed("weeks and days in one duration", "duration", swap(b"TRIGGER:-PT6H", b"TRIGGER:-P1W1D")),
    Seed("an empty duration", "duration", swap(b"TRIGGER:-PT6H", b"TRIGGER:-P")),
    Seed("half a number", "integer", swap(b"SEQUENCE:", b"SEQUENCE:0.")),
    Seed("a bare comma", "text", add(b"LOCATION:here, there")),
    Seed("a bare semicolon", "text", add(b"LOCATION:here; there")),
    Seed("a lone backslash", "text", add(b"LOCATION:here\\there")),
    Seed("an address without scheme", "uri", add(b"URL:www")),
    Seed("an offset of minutes alone", "utc-offset", tail(*(line.replace(b"+0100", b"+60") for line in ZONE))),
    Seed("an event that does not end", "nesting", drop(b"END:VEVENT")),
    Seed("an end of nothing", "nesting", tail(b"END:VEVENT")),
    Seed("two calendars", "one-calendar", lambda calendar: calendar * 2),
    Seed("words before the calendar", "one-calendar", lambda calendar: b"COMMENT:x\r\n" + calendar),
    Seed("a component that is none", "component-unknown", tail(b"BEGIN:VTASK", b"END:VTASK")),
    Seed("an alarm outside an event", "component-place",
         tail(b"BEGIN:VALARM", b"ACTION:AUDIO", b"TRIGGER:-PT1H", b"END:VALARM")),
    Seed("nothing in the calendar", "no-component",
         lambda calendar: calendar[: calendar.index(EVENT)] + LAST),
    Seed("a property after an event", "property-after-component", tail(b"CATEGORIES:x")),
    Seed("a summary of the calendar", "property-place", head(b"SUMMARY:x")),
    Seed("a colour of an alarm", "property-place", add(b"COLOR:red", ALARM)),
    Seed("no PRODID", "required", drop(b"PRODID:", b"")),
    Seed("no UID", "required", drop(b"UID:")),
    Seed("no DTSTAMP", "required", drop(b"DTSTAMP:")),
    Seed("no DTSTART", "required", drop(b"DTSTART")),
    Seed("no TRIGGER", "required", drop(b"TRIGGER:", ALARM)),
    Seed("two titles", "once", add(b"SUMMARY:x")),
    Seed("two descriptions of the calendar", "once", head(b"DESCRIPTION:x")),
    Seed("two refresh intervals", "once", lambda calendar: head(REFRESH)(head(REFRESH)(calendar))),
    Seed("version 1", "version", swap(b"VERSION:2.0", b"VERSION:1.0")),
    Seed("another calendar of months", "calscale", head(b"CALSCALE:JULIAN")),
    Seed("one UID of two events", "uid-twice", lambda calendar: calendar.replace(b"UID:", b"UID:same\r\nX-OLD:")),
    Seed("a machine's address in a UID", "uid-private", swap(b"UID:", b"UID:192.168.0.7-")),
    Seed("a UID of 300 letters", "uid-long", swap(b"UID:", b"UID:" + (b"x" * 60 + b"\r\n ") * 5)),
    Seed("a stamp of no zone", "utc", swap(b"T000000Z", b"T000000")),
    Seed("an end and a duration", "end-or-duration", add(b"DURATION:P1D")),
    Seed("an end on the first day", "end-after-start",
         swap(b"DTEND;VALUE=DATE:2", b"DTEND;VALUE=DATE:20200101\r\nX-OLD:2")),
    Seed("an end of another type", "end-type", swap(b"DTEND;VALUE=DATE:2", b"DTEND:20300101T000000Z\r\nX-OLD:2")),
    Seed("hours from a day", "duration-of-days", swap(b"DTEND;VALUE=DATE:2", b"DURATION:PT5H\r\nX-OLD:2")),
    Seed("a status of a task list", "word", swap(b"STATUS:CONFIRMED", b"STATUS:COMPLETED")),
    Seed("free in another word", "word", swap(b"TRANSP:TRANSPARENT", b"TRANSP:FREE")),
    Seed("a relation that is none", "word", add(b"RELATED-TO;RELTYPE=COUSIN:x")),
    Seed("a sequence under 0", "sequence", swap(b"SEQUENCE:", b"SEQUENCE:-1\r\nX-OLD:")),
    Seed("an alarm without words", "alarm-words", drop(b"DESCRIPTION:", ALARM)),
    Seed("repeated without a pause", "repeat-and-duration", add(b"REPEAT:2", ALARM)),
    Seed("an alarm by local time", "trigger-utc", swap(b"TRIGGER:-PT6H", b"TRIGGER;VALUE=DATE-TIME:20270101T080000")),
    Seed("an alarm related to the middle", "trigger-end", swap(b"TRIGGER:-PT6H", b"TRIGGER;RELATED=MIDDLE:-PT6H")),
    Seed("a zone without its table", "zone-table", add(b"EXDATE;TZID=Nowhere:20270101T080000")),
    Seed("a zone twice", "zone-twice", tail(*ZONE, *ZONE)),
    Seed("a zone without rules", "zone-parts", tail(ZONE[0], ZONE[1], ZONE[-1])),
    Seed("a day in a zone", "zone-on-date", lambda calendar: tail(*ZONE)(
        swap(b"DTSTART;VALUE=DATE:", b"DTSTART;VALUE=DATE;TZID=Here:")(calendar))),
    Seed("an interval of no type", "refresh", head(b"REFRESH-INTERVAL:PT1H")),
    Seed("an interval back in time", "refresh", head(b"REFRESH-INTERVAL;VALUE=DURATION:-PT1H")),
    Seed("a source of no type", "source", head(b"SOURCE:https://farm.invalid/x.ics")),
    Seed("a colour in digits", "colour", add(b"COLOR:#ff0000")),
    Seed("a picture of no type", "image", head(b"IMAGE:https://farm.invalid/x.png")),
    Seed("a call of no type", "conference", add(b"CONFERENCE:tel:1")),
)  # fmt: skip
