"""Plans follow one another through random upsets, and a phone that keeps the last item of each UID shows the new plan.

The client is a model of RFC 5545, 3.8.7.4 and RFC 5546 (IETF 2009), 2.1.5: of two items of one UID the one of the
higher SEQUENCE holds, of equal ones the later. It knows nothing of plan.json.
"""

from functools import cache
from itertools import pairwise

import pytest

from scheduler.report import Task
from tests.calendar.lives import Step, planning, plannings
from tests.calendar.upsets import UPSETS
from tests.oracle.farms import FAMILIES
from tests.outside.content_lines import Component, events

LIVES = [(family, seed) for family in FAMILIES for seed in (1, 3)]
STEPS = 5
Items = dict[str, Component]


@cache
def life(family: str, seed: int) -> tuple[Step, ...]:
    """The plannings of one farm, up to the end of its season."""
    steps = plannings(family, seed, STEPS)
    return tuple(step for step in steps if step.report.plan.made_for <= step.report.plan.end)


def items(step: Step) -> Items:
    """The events of a calendar by UID."""
    return {event.one("UID").value: event for event in events(step.calendar)}


def sequence(event: Component) -> int:
    """The event's SEQUENCE."""
    return int(event.one("SEQUENCE").value)


def take(client: Items, arrived: Items) -> Items:
    """What the client holds after a calendar has come in: nothing is forgotten."""
    news = {
        uid: event for uid, event in arrived.items() if uid not in client or sequence(client[uid]) <= sequence(event)
    }
    return {**client, **news}


def shown(held: Items) -> set[tuple[str, str, str]]:
    """UID, day and title of all that is not called off."""
    standing = [event for event in held.values() if event.one("STATUS").value != "CANCELLED"]
    return {(event.one("UID").value, event.one("DTSTART").value, event.one("SUMMARY").value) for event in standing}


@pytest.mark.parametrize(("family", "seed"), LIVES)
def test_a_client_that_keeps_the_last_item_of_each_uid_shows_the_new_plan(family: str, seed: int) -> None:
    client: Items = {}
    for step in life(family, seed):
        client = take(client, items(step))
        assert shown(client) == shown(items(step)), step.upset


@pytest.mark.parametrize(("family", "seed"), LIVES)
def test_sequence_rises_by_one_where_date_text_or_status_changed_and_nowhere_else(family: str, seed: int) -> None:
    for step in life(family, seed):
        before = {task.uid: task for task in step.earlier.tasks} if step.earlier else {}
        for task in step.report.plan.tasks:
            old = before.get(task.uid)
            same = old is not None and (old.day, old.text, old.status) == (task.day, task.text, task.status)
            assert task.sequence == (0 if old is None else old.sequence + (not same)), (step.upset, task.text)


@pytest.mark.parametrize(("family", "seed"), LIVES)
def test_a_title_changes_only_with_its_sequence(family: str, seed: int) -> None:
    steps = life(family, seed)
    for first, second in pairwise(steps):
        before, after = items(first), items(second)
        standing = {task.uid for task in second.report.plan.tasks if task.status in ("planned", "done")}
        for uid in before.keys() & after.keys() & standing:
            if sequence(before[uid]) == sequence(after[uid]):
                assert before[uid].one("SUMMARY") == after[uid].one("SUMMARY"), second.upset


def what_it_is(task: Task) -> tuple[str | None, ...]:
    """What a uid stands for; a preparation is told by its number alone."""
    return (task.kind, task.cohort, task.group if task.kind != "prepare" else None, task.label, task.use)


@pytest.mark.parametrize(("family", "seed"), LIVES)
def test_a_uid_is_never_given_to_another_task(family: str, seed: int) -> None:
    known: dict[str, tuple[str | None, ...]] = {}
    for step in life(family, seed):
        for task in step.report.plan.tasks:
            assert known.setdefault(task.uid, what_it_is(task)) == what_it_is(task), step.upset


@pytest.mark.parametrize(("family", "seed"), LIVES)
def test_what_was_in_the_calendar_stays_in_it_until_the_seasons_end(family: str, seed: int) -> None:
    steps = life(family, seed)
    for first, second in pairwise(steps):
        assert items(first).keys() <= items(second).keys(), second.upset


def doses(step: Step) -> list[tuple[object, ...]]:
    """The planned doses, whatever their numbers."""
    found = [task for task in step.report.plan.tasks if task.kind == "dose" and task.status == "planned"]
    return sorted((task.day, task.cohort, task.label, task.use) for task in found)


@pytest.mark.parametrize(("family", "seed"), LIVES)
def test_planned_again_at_once_a_calendar_keeps_every_byte(family: str, seed: int) -> None:
    """Of plans equally good, days moved included, the least list is taken, which may not be the earlier one."""
    for number, step in enumerate(life(family, seed)):
        again = planning(step.life, step.as_earlier())
        assert again is not None
        if number == 0 or doses(again) == doses(step):
            assert (again.calendar, again.changes.changes) == (step.calendar, ()), step.upset


@pytest.mark.parametrize(("family", "seed"), LIVES)
def test_changes_tell_what_is_new_or_has_another_sequence(family: str, seed: int) -> None:
    for step in life(family, seed)[1:]:
        assert step.earlier is not None
        before = {task.uid: task.sequence for task in step.earlier.tasks}
        told = {change.task.uid for change in step.changes.changes}
        assert told == {task.uid for task in step.report.plan.tasks if before.get(task.uid) != task.sequence}, (
            step.upset
        )
        assert len(told) == len(step.changes.changes)


def test_every_upset_happened_and_each_kind_of_change_came_of_it() -> None:
    steps = [step for family, seed in LIVES for step in life(family, seed)]
    assert {step.upset for step in steps} == {"", *(upset.__name__ for upset in UPSETS)}
    told = {what for step in steps for change in step.changes.changes for what in change.what}
    assert told >= {"new", "done", "missed", "gone", "past", "moved", "dose-changed", "head-changed", "text-changed"}
