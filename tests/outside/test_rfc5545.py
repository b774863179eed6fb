"""The calendars of the sample farms, line by line against the standard.

Source: RFC 5545 (IETF 2009, full text read) and RFC 7986 (IETF 2016); data/rfc5545_rules.csv names the section of each
rule and how it was seen. Every rule of that table has a check here of the same name.
"""

import re
from collections.abc import Callable
from datetime import date, datetime, time, timedelta

import pytest

from tests.outside.content_lines import Component, content_lines, duration, events, physical_lines, read
from tests.outside.plans import TODAY, planned
from tests.outside.tables import Row, rows

Check = Callable[[bytes], None]
TEXTS = ("SUMMARY", "DESCRIPTION", "COMMENT", "LOCATION")
ONE_DAY = timedelta(days=1)


def day_of(text: str) -> date:
    """A DATE value (3.3.4)."""
    assert re.fullmatch(r"\d{8}", text), text
    return datetime.strptime(text, "%Y%m%d").date()  # noqa: DTZ007 - a date has no zone


def alarms(event: Component) -> list[Component]:
    """The alarms of an event."""
    return [part for part in event.inside if part.kind == "VALARM"]


def lines_end_in_crlf(calendar: bytes) -> None:
    bare = calendar.replace(b"\r\n", b"")
    assert calendar.endswith(b"\r\n")
    assert b"\n" not in bare
    assert b"\r" not in bare


def no_line_is_over_75_octets(calendar: bytes) -> None:
    longest = max(len(line) for line in physical_lines(calendar))
    assert 60 < longest <= 75, "long lines are there, and folded"


def no_character_is_split(calendar: bytes) -> None:
    for line in physical_lines(calendar):
        assert line.decode("utf-8") is not None


def unfolded_lines_are_content_lines(calendar: bytes) -> None:
    assert len(content_lines(calendar)) < len(physical_lines(calendar)), "some lines are folded"
    assert read(calendar).kind == "VCALENDAR"


def text_is_utf8(calendar: bytes) -> None:
    assert calendar.decode("utf-8").startswith("BEGIN:VCALENDAR\r\n")


def commas_semicolons_and_backslashes_are_escaped(calendar: bytes) -> None:
    values = [found.value for event in events(calendar) for name in TEXTS for found in event.all(name)]
    assert any("\\," in value for value in values), "a comma stands somewhere"
    for value in values:
        assert not re.search(r"[,;]", re.sub(r"\\[\\,;nN]", "", value)), value
        assert "\\" not in re.sub(r"\\[\\,;nN]", "", value), value


def calendar_has_one_prodid_and_version_2(calendar: bytes) -> None:
    tree = read(calendar)
    assert tree.one("PRODID").value
    assert tree.one("VERSION").value == "2.0"
    assert tree.inside


def event_has_uid_stamp_and_start_once(calendar: bytes) -> None:
    for event in events(calendar):
        assert event.one("UID").value
        assert event.one("DTSTAMP").value
        assert event.one("DTSTART").value


def uids_are_unique_and_short(calendar: bytes) -> None:
    uids = [event.one("UID").value for event in events(calendar)]
    assert len(set(uids)) == len(uids)
    assert max(len(uid.encode()) for uid in uids) <= 255


def stamp_is_utc(calendar: bytes) -> None:
    assert {event.one("DTSTAMP").params for event in events(calendar)} == {""}
    assert all(re.fullmatch(r"\d{8}T\d{6}Z", event.one("DTSTAMP").value) for event in events(calendar))


def dates_are_plain(calendar: bytes) -> None:
    for event in events(calendar):
        for name in ("DTSTART", "DTEND"):
            assert event.one(name).params == ";VALUE=DATE"
            assert day_of(event.one(name).value)


def end_is_the_day_after(calendar: bytes) -> None:
    for event in events(calendar):
        assert day_of(event.one("DTEND").value) - day_of(event.one("DTSTART").value) == ONE_DAY


def end_stands_without_duration(calendar: bytes) -> None:
    assert [event for event in events(calendar) if event.all("DURATION")] == []


def triggers_are_durations(calendar: bytes) -> None:
    found = [alarm.one("TRIGGER").value for event in events(calendar) for alarm in alarms(event)]
    assert {duration(text) for text in found} == {timedelta(days=-6, hours=-16), timedelta(hours=-6)}


def sequence_is_a_whole_number(calendar: bytes) -> None:
    assert {event.one("SEQUENCE").value for event in events(calendar)} == {"0"}, "a first plan"


def status_is_one_of_an_events(calendar: bytes) -> None:
    found = {status.value for event in events(calendar) for status in event.all("STATUS")}
    assert found
    assert found <= {"TENTATIVE", "CONFIRMED", "CANCELLED"}


def events_do_not_block_time(calendar: bytes) -> None:
    assert {event.one("TRANSP").value for event in events(calendar)} == {"TRANSPARENT"}


def alarm_has_action_trigger_and_words(calendar: bytes) -> None:
    for alarm in (alarm for event in events(calendar) for alarm in alarms(event)):
        assert alarm.one("ACTION").value == "DISPLAY"
        assert alarm.one("TRIGGER").value
        assert alarm.one("DESCRIPTION").value


def triggers_are_before_the_start(calendar: bytes) -> None:
    found = [alarm.one("TRIGGER") for event in events(calendar) for alarm in alarms(event)]
    assert all(trigger.value.startswith("-") and "RELATED" not in trigger.params for trigger in found)


def alarms_ring_at_eight_and_at_six(calendar: bytes) -> None:
    rung = set()
    for event in events(calendar):
        midnight = datetime.combine(day_of(event.one("DTSTART").value), time())
        for alarm in alarms(event):
            at = midnight + duration(alarm.one("TRIGGER").value)
            rung.add(((midnight.date() - at.date()).days, at.hour))
    assert rung == {(7, 8), (1, 18)}


def repeat_and_duration_stand_together(calendar: bytes) -> None:
    for alarm in (alarm for event in events(calendar) for alarm in alarms(event)):
        assert len(alarm.all("REPEAT")) == len(alarm.all("DURATION"))


def no_zone_is_named_without_its_table(calendar: bytes) -> None:
    zones = {part.one("TZID").value for part in read(calendar).inside if part.kind == "VTIMEZONE"}
    assert {name for line in content_lines(calendar) for name in re.findall(r";TZID=([^:;]+)", line)} <= zones


def related_events_are_in_the_file(calendar: bytes) -> None:
    uids = {event.one("UID").value for event in events(calendar)}
    assert {related.value for event in events(calendar) for related in event.all("RELATED-TO")} <= uids


def file_has_no_method(calendar: bytes) -> None:
    assert read(calendar).all("METHOD") == []


def uid_holds_no_address(calendar: bytes) -> None:
    for event in events(calendar):
        assert not re.search(r"\d+\.\d+\.\d+\.\d+|localhost|/", event.one("UID").value)


CHECKS: dict[str, Check] = {
    "lines end in CRLF": lines_end_in_crlf,
    "fold at 75 octets": no_line_is_over_75_octets,
    "never split a character": no_character_is_split,
    "unfold first": unfolded_lines_are_content_lines,
    "character set": text_is_utf8,
    "escape in TEXT": commas_semicolons_and_backslashes_are_escaped,
    "calendar must hold": calendar_has_one_prodid_and_version_2,
    "event must hold": event_has_uid_stamp_and_start_once,
    "UID": uids_are_unique_and_short,
    "DTSTAMP": stamp_is_utc,
    "DATE form": dates_are_plain,
    "DTEND is exclusive": end_is_the_day_after,
    "one-day all-day event": end_is_the_day_after,
    "DTEND or DURATION": end_stands_without_duration,
    "duration form": triggers_are_durations,
    "SEQUENCE": sequence_is_a_whole_number,
    "STATUS": status_is_one_of_an_events,
    "TRANSP": events_do_not_block_time,
    "VALARM must hold": alarm_has_action_trigger_and_words,
    "TRIGGER default": triggers_are_before_the_start,
    "TRIGGER on all-day events": alarms_ring_at_eight_and_at_six,
    "REPEAT and DURATION": repeat_and_duration_stand_together,
    "TZID needs VTIMEZONE": no_zone_is_named_without_its_table,
    "RELATED-TO": related_events_are_in_the_file,
    "METHOD": file_has_no_method,
    "no private data in UID": uid_holds_no_address,
}


@pytest.mark.parametrize("farm", TODAY)
@pytest.mark.parametrize("row", rows("rfc5545_rules.csv"), ids=lambda row: f"{row['rule']} ({row['section']})")
def test_calendar_keeps_the_standard(farm: str, row: Row) -> None:
    CHECKS[row["rule"]](planned(farm).calendar)


def test_every_check_has_its_row_in_the_table() -> None:
    assert CHECKS.keys() == {row["rule"] for row in rows("rfc5545_rules.csv")}
