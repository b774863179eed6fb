"""The events of the last plan, as they shall stand in a calendar: calendar.ics and plan.json held together."""

import json
from collections.abc import Collection, Iterator, Sequence
from datetime import date
from typing import Any

from scheduler.exchange.event import Event, events_of
from scheduler.exchange.push import Wanted
from scheduler.exchange.sending import Ours
from scheduler.farm import Wish
from scheduler.plan import EarlierPlan, Task
from scheduler.words import Fault, Where

CALENDAR_FILE = "calendar.ics"
WISHES = "wishes"
EVERYTHING = "all"


def planned_events(calendar: bytes, plan: EarlierPlan, timezone: str) -> dict[str, Event] | Fault:
    """The events of calendar.ics by uid; a fault where it cannot be read, or is not that of the plan."""
    try:
        events = events_of(calendar, timezone)
    except ValueError:
        return _fault("found a file that is no calendar")
    kept = [task for task in plan.tasks if task.status != "cancelled"]
    if all(task.uid in events and events[task.uid].day == task.day for task in kept):
        return events
    return _fault("found a calendar of another plan than plan.json")


def _fault(found: str) -> Fault:
    return Fault(Where(CALENDAR_FILE), found, "expected that of the last plan", "plan again with `season plan`")


def wanted_of(
    events: dict[str, Event],
    plan: EarlierPlan,
    refused: Sequence[tuple[Wish, str]],
    timezone: str,
    kinds: Sequence[str] = (),
    ours_win: Collection[str] = (),
) -> Wanted:
    """What shall stand in the calendar.

    refused: wishes that the plan has left out, with the reason. kinds: only these; empty: all. ours_win: uids of events
    that shall stand as planned whatever stands there, or "all".
    """
    tasks = {task.uid: task for task in plan.tasks}
    ours = {
        uid: Ours(
            event=event,
            is_done=uid in tasks and tasks[uid].status == "done",
            refused=tuple(_refused(tasks.get(uid), refused)),
            ours_wins=uid in ours_win or EVERYTHING in ours_win,
        )
        for uid, event in events.items()
        if not kinds or event.kind in kinds
    }
    return Wanted(ours=ours, all_uids=frozenset(events), made_for=plan.made_for, timezone=timezone, kinds=tuple(kinds))


def _refused(task: Task | None, refused: Sequence[tuple[Wish, str]]) -> Iterator[tuple[date, str]]:
    return ((wish.day, text) for wish, text in refused if task is not None and is_for(wish, task))


def is_for(wish: Wish, task: Task) -> bool:
    """Whether a wish asks for the dose of this task, whatever its day."""
    same = (wish.group, wish.label, wish.use) == (task.group, task.label, task.use)
    return same and wish.cohort in (None, task.cohort) and (wish.repeat_of is None) == (task.repeat_of is None)


def refused_wishes(plan_json: bytes, wishes: Sequence[Wish]) -> list[tuple[Wish, str]]:
    """The wishes that a plan.json, read before without a fault, has left out, each with what the plan says of it."""
    by_row = {wish.where.row: wish for wish in wishes}
    conflicts: list[dict[str, Any]] = json.loads(plan_json).get("conflicts", [])
    return [
        (by_row[row], f"{one.get('text')} ({one.get('rule')}).")
        for one in conflicts
        if one.get("severity") == "stop" and (row := _wish_row(one.get("where"))) in by_row
    ]


def _wish_row(where: Any) -> int | None:
    """The row of a place in the table of wishes; None for any other place."""
    place = where if isinstance(where, dict) else {}
    is_wish = place.get("sheet", str(place.get("file", "")).removesuffix(".csv")) == WISHES
    return place.get("row") if is_wish else None
