"""The calendar as it is served: what it adds to calendar.ics, and the notice as its first event."""

from datetime import UTC, date, datetime
from typing import Any

import pytest
from icalendar import Calendar

from scheduler.outputs import Notice, feed_ics, is_calendar

HEAD = b"BEGIN:VCALENDAR\r\nPRODID:-//invented//EN\r\nVERSION:2.0\r\nDESCRIPTION:BEGIN:VEVENT\\nEND:VCALE\r\n NDAR\r\n"
EVENT = b"BEGIN:VEVENT\r\nUID:one\r\nDTSTAMP:20270501T000000Z\r\nDTSTART;VALUE=DATE:20270601\r\nEND:VEVENT\r\n"
ZONE = b"BEGIN:VTIMEZONE\r\nTZID:Etc/UTC\r\nEND:VTIMEZONE\r\n"
END = b"END:VCALENDAR\r\n"
SINCE = datetime(2027, 5, 1, 6, 30, tzinfo=UTC)
NOTICE = Notice("farm", date(2027, 5, 2), SINCE, "The farm folder has 2 faults.")


@pytest.mark.parametrize("calendar", [HEAD + EVENT + END, HEAD + ZONE + EVENT + EVENT + END, HEAD + ZONE + END])
def test_it_asks_to_be_fetched_each_hour_before_any_component(calendar: bytes) -> None:
    """RFC 7986, 5.7: a DURATION, and the value type must be stated."""
    served = feed_ics(calendar)
    line = b"REFRESH-INTERVAL;VALUE=DURATION:PT1H\r\n"
    assert served.startswith(HEAD + line)
    assert served.replace(line + b"X-PUBLISHED-TTL:PT1H\r\n", b"") == calendar


@pytest.mark.parametrize("calendar", [HEAD + EVENT + END, HEAD + ZONE + EVENT + EVENT + END, HEAD + ZONE + END])
def test_the_notice_is_the_first_event_and_the_rest_stays_as_it_is(calendar: bytes) -> None:
    plain, told = feed_ics(calendar), feed_ics(calendar, NOTICE)
    begin, end = told.index(b"BEGIN:VEVENT\r\n", len(HEAD)), told.index(b"END:VEVENT\r\n") + len(b"END:VEVENT\r\n")
    assert told[:begin] + told[end:] == plain
    assert b"SUMMARY:Season plan not renewed" in told[begin:end]


def test_the_notice_is_an_event_of_its_day_without_alarm_that_leaves_it_free() -> None:
    event: Any = Calendar.from_ical(feed_ics(HEAD + EVENT + END, NOTICE)).walk("VEVENT")[0]
    assert (event["DTSTART"].dt, event["DTEND"].dt) == (date(2027, 5, 2), date(2027, 5, 3))
    assert (event["DTSTAMP"].dt, event["TRANSP"], event["DESCRIPTION"]) == (SINCE, "TRANSPARENT", NOTICE.text)
    assert event.subcomponents == []


def test_another_day_or_farm_has_a_notice_of_its_own() -> None:
    others = (NOTICE, Notice("farm", date(2027, 5, 3), SINCE, ""), Notice("other", date(2027, 5, 2), SINCE, ""))
    uids = {Calendar.from_ical(feed_ics(HEAD + END, one)).walk("VEVENT")[0]["UID"] for one in others}
    assert len(uids) == 3


@pytest.mark.parametrize("data", [b"", END, HEAD, HEAD + EVENT, HEAD + EVENT + END[:-4], b"\xff" + HEAD + END, b"{}"])
def test_half_a_calendar_is_none(data: bytes) -> None:
    assert is_calendar(HEAD + END)
    assert not is_calendar(data)


def test_of_some_kinds_only_these_are_served() -> None:
    kinds = ("dose", "sale", "recheck", "dose")
    events = [EVENT.replace(b"END", b"CATEGORIES:%b\r\nDESCRIPTION:a\\nb\r\n CATEGORIES:sale\r\nEND" % kind.encode())
              for kind in kinds]  # fmt: skip
    calendar = HEAD + b"".join(events) + END
    assert feed_ics(calendar, only=("dose",)) == feed_ics(HEAD + events[0] + events[3] + END)
    assert feed_ics(calendar, only=("sale", "dose")) == feed_ics(HEAD + events[0] + events[1] + events[3] + END)
    assert feed_ics(calendar, NOTICE, ("sale",)) == feed_ics(HEAD + events[1] + END, NOTICE)


def test_a_calendar_that_is_left_without_events_still_has_a_component() -> None:
    """RFC 5545, 3.6."""
    left = feed_ics(HEAD + EVENT.replace(b"END", b"CATEGORIES:dose\r\nEND") + END, only=("sale",))
    calendar = Calendar.from_ical(left)
    assert [part.name for part in calendar.subcomponents] == ["VTIMEZONE"]
