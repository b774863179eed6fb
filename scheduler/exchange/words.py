"""What push and pull tell: lines for people, values for programs."""

from collections.abc import Iterator, Mapping, Sequence

from scheduler.exchange.answers import Answers
from scheduler.exchange.event import Event
from scheduler.exchange.push import LeftThere, Outcome
from scheduler.exchange.rows import Row, WishRows, row_text
from scheduler.exchange.server import Place
from scheduler.outputs import Line, Paragraph, Value
from scheduler.plan import Task
from scheduler.words import say_day

LEFT = {
    "moved": "moved there",
    "reworded": "its words were changed there, and are left as they are",
    "timed": "given a time, more days or repeats there, and left as it is",
    "marked done": "marked done there; `season pull` takes it into the record",
    "deleted": "deleted there, and not put back",
}
"""Why an event stands there otherwise, in words."""

SHOWN = 20


def push_lines(
    place: Place | None, name: str, outcome: Outcome, tasks: Mapping[str, Task], dry: bool
) -> Iterator[Line]:
    """What was sent, or would be, and what stands there otherwise than in the plan.

    place None: there is no calendar yet; one of this name would be made.
    """
    yield Paragraph(_calendar(place, name))
    yield Paragraph(_counts(outcome, dry))
    for one in outcome.left[:SHOWN]:
        yield Paragraph(f"{one.event.title}: {_left(one)} ({name_for_ours(one.event, tasks)}).", "- ")
    if len(outcome.left) > SHOWN:
        yield f"  and {len(outcome.left) - SHOWN} more, all of them with --json"
    if outcome.left:
        yield Paragraph("What was changed there stands until you decide: `season pull` takes their days as wishes, "
                        "`season push --ours TASK` sends the plan's again, --ours all every one.")  # fmt: skip


def _calendar(place: Place | None, name: str) -> str:
    if place is None:
        return f'There is no calendar yet: "{name}" would be made.'
    told = f'"{place.name}", {place.address}' if place.name else place.address
    return f"Calendar {told}{', made just now' if place.is_new else ''}."


def _counts(outcome: Outcome, dry: bool) -> str:
    counts = [(len(outcome.new), "new"), (len(outcome.changed), "changed"), (len(outcome.called_off), "called off")]
    said = ", ".join(f"{count} {word}" for count, word in counts if count)
    stand = "stands" if outcome.unchanged == 1 else "stand"
    as_before = f" {_events(outcome.unchanged)} {stand} there as sent before." if outcome.unchanged else ""
    if outcome.cut is not None and not said:
        return "Nothing was sent."
    return (f"{'Would send' if dry else 'Sent'}: {said}." if said else "Nothing to send.") + as_before


def _events(count: int) -> str:
    return f"{count} event" if count == 1 else f"{count} events"


def _left(one: LeftThere) -> str:
    days = "" if one.their_day in (None, one.event.day) else f"; the plan has {say_day(one.event.day)}, the calendar "
    return LEFT[one.why] + (f"{days}{say_day(one.their_day)}" if days and one.their_day else "")


def name_for_ours(event: Event, tasks: Mapping[str, Task]) -> str:
    """How --ours names an event: GROUP@DATE, or its uid."""
    task = tasks.get(event.uid)
    if task is None or not task.group:
        return event.uid
    return f"{task.cohort or task.group.split('; ')[0]}@{task.day.isoformat()}"


def push_value(place: Place | None, outcome: Outcome, dry: bool) -> dict[str, Value]:
    """What `season push --json` prints."""
    return {
        "schema": "season-push/1",
        "calendar": None if place is None else place.address,
        "made": place is not None and place.is_new,
        "dry_run": dry,
        "complete": outcome.cut is None,
        "new": [event.uid for event in outcome.new],
        "changed": [event.uid for event in outcome.changed],
        "called_off": [event.uid for event in outcome.called_off],
        "unchanged": outcome.unchanged,
        "left": [
            {
                "uid": one.event.uid,
                "why": one.why,
                "planned": one.event.day.isoformat(),
                "there": None if one.their_day is None else one.their_day.isoformat(),
            }
            for one in outcome.left
        ],
    }


def pull_lines(answers: Answers, already: Sequence[tuple[Task, int]], said: Sequence[str]) -> Iterator[Line]:
    """What the calendar answered, but for the rows."""
    for sentence in (*answers.said, *said):
        yield Paragraph(sentence, "- ")
    if already:
        yield Paragraph(f"Wished already: {', '.join(f'row {number}' for _, number in already)} of wishes.csv.", "- ")
    for one in answers.questions:
        yield Paragraph(f"{one.text[0].upper()}{one.text[1:]}: {_task(one.task)}. It is still in the plan.", "- ")
    if answers.questions:
        yield Paragraph("Is that not wanted? Say so in the farm's tables and plan again; "
                        "`season push --ours TASK` puts an event back.")  # fmt: skip
    if answers.absent:
        yield Paragraph(f"{_events(answers.absent)} of the plan {'is' if answers.absent == 1 else 'are'} not in the "
                        "file; that may be its span, and is not taken for deleting.")  # fmt: skip


def _task(task: Task) -> str:
    from scheduler.exchange.answers import name_of

    whom = task.cohort or (task.group or "").split("; ")[0]
    return f"{name_of(task)} ({f'{whom}@{task.day.isoformat()}' if whom else task.uid})"


def rows_lines(table: str, rows: Sequence[Row], verb: str) -> Iterator[Line]:
    """The rows of a table, after what is done with them."""
    if rows:
        yield f"{verb} {table}:"
    for row in rows:
        yield Paragraph(f"{'new row' if row.number is None else f'row {row.number}'}: {row_text(row)}", "  ", "    ")


def pull_value(
    source: str, answers: Answers, wishes: WishRows, offered: Sequence[Row], record: Sequence[Row], written: bool
) -> dict[str, Value]:
    """What `season pull --json` prints, but for the conflicts. offered: rows for the record, record: those wanted."""
    return {
        "schema": "season-pull/1",
        "from": source,
        "written": written,
        "wishes": [_row_value(row) for row in wishes.rows],
        "record": [_row_value(row) for row in record],
        "unanswered": [_row_value(row) for row in offered if row not in record],
        "questions": [{"uid": one.task.uid, "date": one.task.day.isoformat(), "text": one.text}
                      for one in answers.questions],
        "said": [*answers.said, *wishes.said],
        "not_in_file": answers.absent,
    }  # fmt: skip


def _row_value(row: Row) -> dict[str, Value]:
    return {"uid": row.task.uid, "row": row.number, "cells": {name: str(value) for name, value in row.cells.items()}}
