"""Five readers that are not ours see in every calendar what plan.json says: UID, day, title, standing and alarms."""

from collections.abc import Iterator, Sequence
from functools import cache
from typing import Any

import pytest

from scheduler.outputs import calendar_ics
from tests.calendar.plans import Written, random_farms, samples
from tests.calendar.readers import READERS, Seen
from tests.calendar.test_round_trip import LIVES, life
from tests.outputs.plans import REPORTS

QUIET = ("recheck", "clear")
A_WEEK_BEFORE, THE_EVENING_BEFORE = -(6 * 24 + 16) * 3600, -6 * 3600
VERBS = {
    "dose": "Dose",
    "recheck": "Look over",
    "clear": "Clear date of",
    "prepare": "Prepare for",
    "order": "Order",
    "sale": "Sell",
    "season-opens": "Watch for",
}


@cache
def written() -> tuple[Written, ...]:
    """The plans of the samples and of the random farms."""
    return (*samples(), *random_farms())


@cache
def read(reader: str) -> list[dict[str, Seen]]:
    """What a reader sees in each of them, by UID."""
    found = READERS[reader]([farm.calendar for farm in written()])
    assert all(len({event.uid for event in events}) == len(events) for events in found)
    return [{event.uid: event for event in events} for events in found]


def tasks(reader: str) -> Iterator[tuple[dict[str, Any], Seen]]:
    """Every task of plan.json with its event."""
    for farm, seen in zip(written(), read(reader), strict=True):
        assert seen.keys() == {task["uid"] for task in farm.plan["tasks"]}, farm.name
        yield from ((task, seen[task["uid"]]) for task in farm.plan["tasks"])


@pytest.mark.parametrize("reader", READERS)
def test_a_reader_sees_every_task_on_its_day_in_its_standing(reader: str) -> None:
    assert len(written()) > 200
    for task, event in tasks(reader):
        assert event.first.isoformat() == task["date"]
        assert (event.after - event.first).days == 1
        assert event.sequence == task["sequence"]
        assert event.status == ("CANCELLED" if task["status"] == "cancelled" else "CONFIRMED")


@pytest.mark.parametrize("reader", READERS)
def test_a_reader_hears_both_alarms_of_planned_work_and_no_other(reader: str) -> None:
    for task, event in tasks(reader):
        rings = task["status"] == "planned" and task["kind"] not in QUIET
        assert sorted(event.alarms) == ([A_WEEK_BEFORE, THE_EVENING_BEFORE] if rings else []), task


@pytest.mark.parametrize("reader", READERS)
def test_a_title_begins_with_what_to_do_group_and_head_and_ends_with_its_fate(reader: str) -> None:
    for task, event in tasks(reader):
        verb = "Repeat dose" if task["repeat_of"] else VERBS[task["kind"]]
        whom = f" {task['group']}, {task['head']:,} head" if task["group"] else " "
        assert event.summary.startswith(verb + whom), event
        if task["status"] != "planned":
            assert event.summary.endswith(f" ({task['status']})")


@pytest.mark.parametrize("reader", READERS)
def test_a_description_holds_the_task_its_reasons_and_its_clear_date(reader: str) -> None:
    for task, event in tasks(reader):
        assert task["text"] in event.description
        assert "Your vet and the law of your country decide" in event.description
        if task["status"] != "cancelled":
            assert all(because["text"] in event.description for because in task["because"])
            assert not (task["clear"] or {}).get("meat") or "Clear: meat from " in event.description


def same(calendars: Sequence[bytes]) -> None:
    """All readers see the same in all of the calendars."""
    found = [[{event.uid: event for event in events} for events in read(calendars)] for read in READERS.values()]
    assert all(other == found[0] for other in found)


def test_the_readers_agree_with_each_other_word_for_word() -> None:
    first, *others = (read(reader) for reader in READERS)
    sort = [{uid: (event, sorted(event.alarms)) for uid, event in one.items()} for one in first]
    for other in others:
        assert [{uid: (event, sorted(event.alarms)) for uid, event in one.items()} for one in other] == sort


def test_the_readers_agree_on_words_of_many_scripts_and_on_what_was_called_off() -> None:
    hostile = [calendar_ics(make()) for make in REPORTS.values()]
    later = [life(family, seed)[-1].calendar for family, seed in LIVES]
    same([calendar for calendar in (*hostile, *later) if b"BEGIN:VEVENT" in calendar])


def test_a_calendar_without_a_task_is_read_as_empty() -> None:
    for read_all in READERS.values():
        assert read_all([calendar_ics(REPORTS["empty"]())]) == [[]]
