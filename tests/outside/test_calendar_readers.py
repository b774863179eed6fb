"""Three readers that are not ours see in calendar.ics what plan.json says.

Readers: vobject and ics (two independent libraries), and icalendar. Against the plan: every task is an event of the
same uid, day and standing, with alarms where the contract of the calendar wants them.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

import icalendar
import ics
import pytest
import vobject

from tests.outside.plans import TODAY, planned

WITHOUT_ALARM = {"recheck", "clear"}
ALARMS = frozenset({timedelta(days=-6, hours=-16), timedelta(hours=-6)})


@dataclass(frozen=True)
class Seen:
    """An event as a reader sees it."""

    day: date
    summary: str
    cancelled: bool
    alarms: frozenset[timedelta]


def by_vobject(calendar: bytes) -> dict[str, Seen]:
    """The events as vobject reads them."""
    found = vobject.readOne(calendar.decode("utf-8")).vevent_list
    return {event.uid.value: vobject_event(event) for event in found}


def vobject_event(event: Any) -> Seen:
    """One event of vobject."""
    assert event.dtend.value - event.dtstart.value == timedelta(days=1)
    alarms = frozenset(alarm.trigger.value for alarm in event.contents.get("valarm", []))
    return Seen(event.dtstart.value, event.summary.value, event.status.value == "CANCELLED", alarms)


def by_ics(calendar: bytes) -> dict[str, Seen]:
    """The events as ics reads them."""
    return {event.uid: ics_event(event) for event in ics.Calendar(calendar.decode("utf-8")).events}


def ics_event(event: Any) -> Seen:
    """One event of ics."""
    assert event.all_day
    assert event.duration == timedelta(days=1)
    alarms = frozenset(alarm.trigger for alarm in event.alarms)
    return Seen(event.begin.date(), event.name, event.status == "CANCELLED", alarms)


def by_icalendar(calendar: bytes) -> dict[str, Seen]:
    """The events as icalendar reads them."""
    found = icalendar.Calendar.from_ical(calendar).walk("VEVENT")
    return {str(event["UID"]): icalendar_event(event) for event in found}


def icalendar_event(event: Any) -> Seen:
    """One event of icalendar."""
    start = event["DTSTART"].dt
    assert not isinstance(start, datetime)
    assert event["DTEND"].dt - start == timedelta(days=1)
    alarms = frozenset(alarm["TRIGGER"].dt for alarm in event.walk("VALARM"))
    return Seen(start, str(event["SUMMARY"]), event["STATUS"] == "CANCELLED", alarms)


READERS = {"vobject": by_vobject, "ics": by_ics, "icalendar": by_icalendar}


def expected_alarms(task: dict[str, Any]) -> frozenset[timedelta]:
    """Both reminders, but none on re-checks and clear dates, nor on what is done, missed or cancelled."""
    return ALARMS if task["status"] == "planned" and task["kind"] not in WITHOUT_ALARM else frozenset()


@pytest.mark.parametrize("farm", TODAY)
@pytest.mark.parametrize("reader", READERS.values(), ids=list(READERS))
def test_a_reader_sees_every_task_on_its_day(farm: str, reader: Callable[[bytes], dict[str, Seen]]) -> None:
    seen, tasks = reader(planned(farm).calendar), planned(farm).plan["tasks"]
    assert {uid: event.day.isoformat() for uid, event in seen.items()} == {t["uid"]: t["date"] for t in tasks}
    assert {uid: event.alarms for uid, event in seen.items()} == {t["uid"]: expected_alarms(t) for t in tasks}
    assert {uid: event.cancelled for uid, event in seen.items()} == {
        t["uid"]: t["status"] == "cancelled" for t in tasks
    }


@pytest.mark.parametrize("farm", TODAY)
def test_the_readers_agree_with_each_other(farm: str) -> None:
    first, *others = (reader(planned(farm).calendar) for reader in READERS.values())
    assert all(other == first for other in others)
    assert len(first) > 20


@pytest.mark.parametrize("farm", TODAY)
def test_the_summary_of_a_dose_names_group_and_head(farm: str) -> None:
    seen = by_vobject(planned(farm).calendar)
    doses = [task for task in planned(farm).plan["tasks"] if task["kind"] == "dose"]
    assert doses
    for task in doses:
        assert task["group"] in seen[task["uid"]].summary
        assert str(task["head"]) in seen[task["uid"]].summary


def test_a_repeat_is_related_to_its_first_dose() -> None:
    found = icalendar.Calendar.from_ical(planned("fellside").calendar).walk("VEVENT")
    related = {str(event["UID"]): str(event["RELATED-TO"]) for event in found if "RELATED-TO" in event}
    repeats = {task["uid"]: task["repeat_of"] for task in planned("fellside").plan["tasks"] if task["repeat_of"]}
    assert repeats
    assert related == repeats
