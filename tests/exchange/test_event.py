"""Events as they are compared: what a server or a client may write otherwise, and what is a change."""

from datetime import date

import pytest

from scheduler.exchange import Event, Sent, events_of
from tests.exchange.calendars import ZONE, calendar_text, event_text

DAY = date(2027, 6, 4)


def read(text: str) -> Event:
    """The one event of a calendar."""
    (event,) = events_of(calendar_text([text]), ZONE).values()
    return event


def edited(old: str, new: str) -> Event:
    """The event after one edit."""
    text = event_text("a", DAY)
    assert old in text
    return read(text.replace(old, new))


PLAIN = read(event_text("a", DAY))


@pytest.mark.parametrize(
    ("old", "new"),
    [("SEQUENCE:0", "SEQUENCE:4"), ("DTSTAMP:20270501T000000Z", "DTSTAMP:20270502T101500Z"),
     ("TRANSP:TRANSPARENT\r\n", "TRANSP:TRANSPARENT\r\nX-LASTACK:20270601T000000Z\r\nCREATED:20270501T000000Z\r\n"),
     ("DESCRIPTION:20 ml a head\\, slowly", "DESCRIPTION:20 ml a he\r\n ad\\, slowly")],
)  # fmt: skip
def test_what_servers_and_clients_add_is_no_change(old: str, new: str) -> None:
    event = edited(old, new)
    assert (event.words, event.whole, event.day, event.is_plain) == (PLAIN.words, PLAIN.whole, DAY, True)


@pytest.mark.parametrize(
    ("old", "new"),
    [("SUMMARY:Dose Ewes", "SUMMARY:Dose Ewes with Sam"), ("DESCRIPTION:20", "DESCRIPTION:25"),
     ("STATUS:CONFIRMED", "STATUS:CANCELLED"), ("CATEGORIES:dose", "CATEGORIES:dose,family")],
)  # fmt: skip
def test_other_words_are_a_change(old: str, new: str) -> None:
    assert edited(old, new).words != PLAIN.words


def test_a_reminder_changes_the_whole_but_not_the_words() -> None:
    event = edited("TRIGGER:-PT6H", "TRIGGER:-PT1H")
    assert event.words == PLAIN.words
    assert event.whole != PLAIN.whole


@pytest.mark.parametrize(
    ("old", "new"),
    [("SUMMARY:", "SUMMARY:✓ "), ("SUMMARY:", "SUMMARY:✔️"), ("SUMMARY:", "SUMMARY:[x] "),
     ("SUMMARY:", "SUMMARY:Done: "),     ("SUMMARY:", "SUMMARY:DONE "), ("CATEGORIES:dose", "CATEGORIES:dose,Done"),
     ("CATEGORIES:dose", "CATEGORIES:dose\r\nCATEGORIES:completed"), ("STATUS:CONFIRMED", "STATUS:COMPLETED")],
)  # fmt: skip
def test_a_mark_of_being_done_is_seen_and_is_no_other_word(old: str, new: str) -> None:
    event = edited(old, new)
    assert event.is_done
    assert (event.words, event.kind) == (PLAIN.words, "dose")


@pytest.mark.parametrize("title", ["Donegal ewes", "Dose the done", "x] ewes"])
def test_other_titles_are_no_mark(title: str) -> None:
    assert not edited("SUMMARY:Dose Ewes", f"SUMMARY:{title}").is_done


@pytest.mark.parametrize(
    ("start", "day"),
    [(";TZID=America/New_York:20270604T200000", 4), (":20270604T230500Z", 5), (":20270604T080000", 4),
     (";TZID=Pacific/Auckland:20270605T010000", 5)],
)  # fmt: skip
def test_a_time_is_on_its_own_day_and_universal_time_on_that_of_the_farm(start: str, day: int) -> None:
    event = edited(";VALUE=DATE:20270604", start)
    assert (event.day, event.is_plain) == (date(2027, 6, day), False)


@pytest.mark.parametrize("extra", ["RRULE:FREQ=WEEKLY\r\n", "RDATE;VALUE=DATE:20270611\r\n"])
def test_a_series_is_not_plain(extra: str) -> None:
    assert not read(event_text("a", DAY, extra=extra)).is_plain


def test_several_days_are_not_plain() -> None:
    assert not edited("DTEND;VALUE=DATE:20270605", "DTEND;VALUE=DATE:20270606").is_plain


def test_what_was_sent_is_read_from_the_event() -> None:
    event = read(event_text("a", DAY, extra="X-SEASON-SENT:2027-06-03 aa bb\r\n"))
    assert event.sent == Sent(date(2027, 6, 3), "aa", "bb")


@pytest.mark.parametrize("value", ["", "2027-06-03", "soon aa bb", "2027-06-03 aa bb cc"])
def test_what_others_write_there_is_nothing(value: str) -> None:
    assert read(event_text("a", DAY, extra=f"X-SEASON-SENT:{value}\r\n")).sent is None


@pytest.mark.parametrize("text", ["", "hello", "BEGIN:VEVENT\r\nEND:VEVENT\r\n", "BEGIN:VCALENDAR", "\x00\x01", ":::;"])
def test_what_is_no_calendar_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="no calendar"):
        events_of(text, ZONE)


def test_a_broken_event_does_not_hide_the_others() -> None:
    broken = "BEGIN:VEVENT\r\nUID:b\r\nDTSTART:someday\r\nEND:VEVENT\r\n"
    nameless = "BEGIN:VEVENT\r\nDTSTART;VALUE=DATE:20270604\r\nEND:VEVENT\r\n"
    assert set(events_of(calendar_text([broken, nameless, event_text("a", DAY)]), ZONE)) == {"a"}
