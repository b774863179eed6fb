"""What a calendar answers back, as values: tasks moved, marked done or deleted there. The keeper decides."""

from collections.abc import Collection, Iterator, Mapping
from datetime import date

from msgspec import Struct, field

from scheduler.exchange.event import Event, Sent
from scheduler.exchange.state import Known
from scheduler.plan import Task
from scheduler.words import say_day

ELSEWHERE = {
    "sale": "a sale is moved in sales.csv",
    "recheck": "looks follow the risk",
    "clear": "a clear date follows its dose",
    "prepare": "it follows its dose",
    "order": "an order follows the doses",
    "season-opens": "it follows the risk",
}
"""By kind of task, why another day cannot be wished for it."""


class Moved(Struct, frozen=True):
    """A dose that was moved to another day."""

    task: Task
    day: date


class MarkedDone(Struct, frozen=True):
    """A dose that was marked as done, and the day on which it stands, today where that is to come."""

    task: Task
    day: date


class Question(Struct, frozen=True):
    """A task that is only asked about, and what was found."""

    task: Task
    text: str


class Answers(Struct):
    """What a calendar says. said: sentences on what cannot be taken. absent: tasks that a file does not hold."""

    moved: list[Moved] = field(default_factory=list)
    done: list[MarkedDone] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    absent: int = 0


class Heard(Struct, frozen=True, kw_only=True):
    """What stands in a calendar: events of ours that had to be looked at, by uid, and the uids of all that are there.

    known: what was sent. is_whole: all of the calendar was seen, so that what is not there was deleted.
    """

    events: Mapping[str, Event]
    present: Collection[str]
    known: Mapping[str, Known]
    is_whole: bool


def answers_of(tasks: Mapping[str, Task], heard: Heard, today: date, season: tuple[date, date]) -> Answers:
    """What the calendar says of the tasks, in order of date."""
    found = Answers()
    for task in sorted(tasks.values(), key=lambda task: (task.day, task.uid)):
        event = heard.events.get(task.uid)
        if event is not None:
            _hear(found, task, event, _sent(event, heard.known.get(task.uid)), today, season)
        elif task.uid not in heard.present and task.status in ("planned", "missed"):
            _miss(found, task, heard, today)
    return found


def _sent(event: Event, known: Known | None) -> Sent | None:
    return event.sent or (None if known is None else known.sent)


def _hear(found: Answers, task: Task, event: Event, sent: Sent | None, today: date, season: tuple[date, date]) -> None:
    if task.status == "done" or (task.status == "cancelled" and not event.is_done):
        return
    if event.is_done:
        if task.kind == "dose":
            found.done.append(MarkedDone(task, min(event.day, today)))
        else:
            found.said.append(f"{name_of(task)}: marked done there; only doses go into the record.")
    elif event.is_cancelled:
        found.questions.append(Question(task, "called off there"))
    elif event.day != task.day:
        found.said += _move(found, task, event, sent, today, season)


def _move(
    found: Answers, task: Task, event: Event, sent: Sent | None, today: date, season: tuple[date, date]
) -> Iterator[str]:
    """Takes a move in, or says why it cannot be taken."""
    if sent is not None and event.day == sent.day:
        return
    where = f"{name_of(task)}: moved to {say_day(event.day)} there"
    if sent is None and event.sequence < task.sequence:
        yield f"{name_of(task)}: stands on {say_day(event.day)} there, from an older plan; push first."
    elif task.kind != "dose":
        yield f"{where}; {ELSEWHERE[task.kind]}."
    elif event.day < today:
        yield f"{where}, which is past; a dose given goes into record.csv."
    elif not season[0] <= event.day <= season[1]:
        yield f"{where}, which is outside the season."
    else:
        found.moved.append(Moved(task, event.day))


def _miss(found: Answers, task: Task, heard: Heard, today: date) -> None:
    if not heard.is_whole:
        found.absent += 1
    elif task.uid in heard.known and task.day >= today:
        found.questions.append(Question(task, "deleted there"))


def name_of(task: Task) -> str:
    """A task in a few words, with its day."""
    whom = task.cohort or task.group
    what = task.kind.replace("-", " ") + (f" of {task.label}" if task.label else "")
    return f"{what[0].upper()}{what[1:]}{f' for {whom}' if whom else ''}, {say_day(task.day)}"
