"""calendar.ics held to RFC 5545 and 7986 by its bytes, and to three independent readers: icalendar, vobject, ics."""

import re
from collections.abc import Callable
from datetime import date, datetime, timedelta
from typing import Any, NamedTuple

import icalendar
import ics
import pytest
import vobject
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from scheduler.outputs import calendar_ics
from scheduler.outputs.calendar import summary_of
from scheduler.report import SeasonReport, Task
from tests.outputs.conftest import Snapshot
from tests.outputs.pieces import END, day, plan, report
from tests.outputs.plans import REPORTS, hostile_report, rich_report

REMIND = (timedelta(days=-6, hours=-16), timedelta(hours=-6))


class Read(NamedTuple):
    """An event as a reader understands it."""

    uid: str
    first: date
    after: date
    summary: str
    cancelled: bool
    alarms: tuple[timedelta, ...]


def events_of(content: bytes) -> list[Any]:
    """The events as the icalendar library reads them."""
    return icalendar.Calendar.from_ical(content).walk("VEVENT")


def by_icalendar(content: bytes) -> list[Read]:
    events = events_of(content)
    return [
        Read(str(e["UID"]), e["DTSTART"].dt, e["DTEND"].dt, str(e["SUMMARY"]), e["STATUS"] == "CANCELLED",
             tuple(alarm["TRIGGER"].dt for alarm in e.walk("VALARM")))
        for e in events
    ]  # fmt: skip


def by_vobject(content: bytes) -> list[Read]:
    events = vobject.readOne(content.decode()).contents.get("vevent", [])
    return [
        Read(e.uid.value, e.dtstart.value, e.dtend.value, e.summary.value, e.status.value == "CANCELLED",
             tuple(alarm.trigger.value for alarm in e.contents.get("valarm", [])))
        for e in events
    ]  # fmt: skip


def by_ics(content: bytes) -> list[Read]:
    """This reader gives the last day of an all-day event in place of DTEND's day after, and alarms as a set."""
    events = ics.Calendar(content.decode()).events
    return [
        Read(e.uid, e.begin.date(), e.end.date(), e.name, e.status == "CANCELLED",
             tuple(sorted(alarm.trigger for alarm in e.alarms)))
        for e in events
    ]  # fmt: skip


def planned(told: SeasonReport) -> list[Read]:
    """The events that the plan asks for."""
    return [
        Read(task.uid, task.day, task.day + timedelta(days=1), summary_of(told, task), task.status == "cancelled",
             REMIND if task.status == "planned" and task.kind not in ("recheck", "clear") else ())
        for task in told.plan.tasks
    ]  # fmt: skip


@pytest.mark.parametrize("reader", [by_icalendar, by_vobject, by_ics])
@pytest.mark.parametrize("name", REPORTS)
def test_readers_agree_with_the_plan(reader: Callable[[bytes], list[Read]], name: str) -> None:
    told = REPORTS[name]()
    assert sorted(reader(calendar_ics(told))) == sorted(planned(told))


def lines(content: bytes) -> list[bytes]:
    """Content lines, unfolded (RFC 5545, 3.1)."""
    return content.replace(b"\r\n ", b"").split(b"\r\n")[:-1]


@pytest.mark.parametrize("name", REPORTS)
def test_lines_end_in_crlf_and_hold_at_most_75_octets_of_whole_characters(name: str) -> None:
    content = calendar_ics(REPORTS[name]())
    assert content.endswith(b"END:VCALENDAR\r\n")
    assert content.count(b"\n") == content.count(b"\r\n") == content.count(b"\r")
    for line in content.split(b"\r\n"):
        assert len(line) <= 75
        line.decode()


@settings(deadline=None)
@given(st.text(max_size=200))
def test_any_text_folds_between_characters_and_comes_back(text: str) -> None:
    task = replace(rich_report().plan.tasks[0], text=text)
    content = calendar_ics(report(plan(tasks=(task,))))
    assert all(len(line) <= 75 and line.decode() is not None for line in content.split(b"\r\n"))
    kept = "".join(letter for letter in text if letter in "\n\t" or (letter >= " " and letter != "\x7f"))
    kept = re.sub("[\x85\u2028\u2029]", " ", kept)
    (event,) = events_of(content)
    assert kept in event["DESCRIPTION"]


def event_of(told: SeasonReport, task: Task) -> list[bytes]:
    """The content lines of one task's event."""
    alone = report(replace(told.plan, tasks=(task,)), labels=told.labels, remind=told.remind)
    every = lines(calendar_ics(alone))
    return every[every.index(b"BEGIN:VEVENT") : every.index(b"END:VEVENT")]


def task_of(told: SeasonReport, kind: str, status: str = "planned") -> Task:
    """The first task of a kind and status."""
    return next(task for task in told.plan.tasks if task.kind == kind and task.status == status)


def test_a_dose_is_an_all_day_event_that_blocks_no_time() -> None:
    told = rich_report()
    event = event_of(told, task_of(told, "dose"))
    for line in (
        b"DTSTAMP:20270520T000000Z",
        b"DTSTART;VALUE=DATE:20270527",
        b"DTEND;VALUE=DATE:20270528",
        b"SEQUENCE:0",
        b"STATUS:CONFIRMED",
        b"TRANSP:TRANSPARENT",
        b"CATEGORIES:dose",
        rb"SUMMARY:Dose Top lambs\, 60 head (for Autumn draft): 10.5 ml a head of Demo hill pour on (invented) (draft)",
        b"TRIGGER:-P6DT16H",
        b"TRIGGER:-PT6H",
        b"ACTION:DISPLAY",
    ):
        assert line in event


def test_a_description_says_dose_method_clear_dates_why_and_draft() -> None:
    told = rich_report()
    (event,) = events_of(calendar_ics(replace(told, plan=replace(told.plan, tasks=(task_of(told, "dose"),)))))
    for words in (
        "10.5 ml a head",
        "630 ml in all",
        "Draft: label not confirmed",
        "Pour along the back in one line.",
        "Clear: meat from 5 Jun 2027.",
        "Why: The risk opens on 1 Jun",
        *told.cautions,
    ):
        assert words in event["DESCRIPTION"]


def test_a_repeat_is_related_to_its_first_dose() -> None:
    told = rich_report()
    repeat = next(task for task in told.plan.tasks if task.repeat_of)
    assert f"RELATED-TO:{repeat.repeat_of}".encode() in event_of(told, repeat)


@pytest.mark.parametrize(
    ("kind", "status", "alarms"),
    [("dose", "planned", 2), ("order", "planned", 2), ("sale", "planned", 2), ("prepare", "planned", 2),
     ("season-opens", "planned", 2), ("recheck", "planned", 0), ("clear", "planned", 0), ("dose", "done", 0),
     ("dose", "missed", 0), ("dose", "cancelled", 0)],
)  # fmt: skip
def test_alarms_ring_only_for_planned_work(kind: str, status: str, alarms: int) -> None:
    told = rich_report()
    assert event_of(told, task_of(told, kind, status)).count(b"BEGIN:VALARM") == alarms


@pytest.mark.parametrize("status", ["done", "missed", "cancelled"])
def test_the_title_still_begins_with_the_work_and_ends_with_its_fate(status: str) -> None:
    told = rich_report()
    title = summary_of(told, task_of(told, "dose", status))
    assert re.fullmatch(rf"Dose (Ewes|Top lambs), \d+ head.* \({status}\)", title)


def test_cancelled_tasks_stay_until_the_seasons_end_and_then_go() -> None:
    told = rich_report()
    last = replace(told, plan=replace(told.plan, made_for=END))
    past = replace(told, plan=replace(told.plan, made_for=END + timedelta(days=1)))
    assert calendar_ics(last).count(b"STATUS:CANCELLED") == 1
    assert calendar_ics(past).count(b"STATUS:CANCELLED") == 0
    assert calendar_ics(past).count(b"BEGIN:VEVENT") == calendar_ics(last).count(b"BEGIN:VEVENT") - 1


def test_name_and_colour_are_left_to_the_client() -> None:
    head = lines(calendar_ics(hostile_report()))
    assert head[:3] == [b"BEGIN:VCALENDAR", b"PRODID:-//season-scheduler//season//EN", b"VERSION:2.0"]
    names = [line.partition(b":")[0] for line in head[: head.index(b"BEGIN:VEVENT")]]
    assert names == [b"BEGIN", b"PRODID", b"VERSION", b"DESCRIPTION"]
    assert not any(line.startswith(b"COLOR") for line in lines(calendar_ics(hostile_report())))


def test_every_event_has_one_uid_and_stamp_and_the_uids_are_unique() -> None:
    every = lines(calendar_ics(REPORTS["large"]()))
    uids = [line for line in every if line.startswith(b"UID:")]
    assert len(set(uids)) == len(uids) == every.count(b"BEGIN:VEVENT")
    stamps = [line for line in every if line.startswith(b"DTSTAMP:")]
    assert len(stamps) == len(uids)
    assert all(datetime.strptime(s.decode(), "DTSTAMP:%Y%m%dT%H%M%S%z") for s in stamps)


def test_a_draft_says_so_in_every_event_and_a_confirmed_plan_in_none() -> None:
    rich = rich_report()
    confirmed = replace(rich, plan=replace(rich.plan, draft=False))
    for shown, expected in ((rich, True), (confirmed, False)):
        events = icalendar.Calendar.from_ical(calendar_ics(shown)).walk("VEVENT")
        assert events
        assert all(("Draft plan" in str(event["DESCRIPTION"])) is expected for event in events)


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert calendar_ics(rich_report()) == calendar_ics(rich_report())


def test_a_reminder_after_midnight_and_in_weeks_is_kept() -> None:
    task = task_of(rich_report(), "sale")
    told = report(plan(tasks=(task,)), remind=("PT7H", "-P1W"))
    (event,) = by_icalendar(calendar_ics(told))
    assert event.alarms == (timedelta(hours=7), timedelta(days=-7))
    assert event.first == day(8, 20)


def test_the_rich_calendar_as_kept(snapshot: Snapshot) -> None:
    snapshot("rich.ics", calendar_ics(rich_report()))
