"""The plan as work: months with their days, what comes next, and what stands open."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from itertools import groupby

from scheduler.plan import Conflict, Task
from scheduler.report.figures import method_words
from scheduler.report.sentences import headline
from scheduler.report.view import Gather, SeasonReport

KIND_ORDER = ("season-opens", "order", "prepare", "dose", "recheck", "clear", "sale")
NEXT_MOST = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class JobDay:
    """A day's gathers and tasks; `methods` are how its labels are used, each once."""

    day: date
    gathers: tuple[Gather, ...]
    tasks: tuple[Task, ...]
    methods: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Looks:
    """Days of a month on which a mob is looked over, for as long as it is at risk."""

    group: str
    head: int | None
    tasks: tuple[Task, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class JobMonth:
    """A month of work; `first` is its earliest day with a task."""

    first: date
    days: tuple[JobDay, ...]
    looks: tuple[Looks, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenPoints:
    """Conflicts by what they ask for: a decision, attention, or nothing."""

    decide: tuple[Conflict, ...]
    watch: tuple[Conflict, ...]
    know: tuple[Conflict, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Coming:
    """A line of what comes next; `task` is the one it speaks of, or the first of several looks on its day."""

    day: date
    text: str
    task: Task


def job_months(report: SeasonReport) -> tuple[JobMonth, ...]:
    """All tasks but the cancelled, by month and day."""
    tasks = sorted((task for task in report.plan.tasks if task.status != "cancelled"), key=_order)
    return tuple(_month(report, tuple(month)) for _, month in groupby(tasks, lambda t: (t.day.year, t.day.month)))


def _month(report: SeasonReport, tasks: tuple[Task, ...]) -> JobMonth:
    days = groupby((task for task in tasks if not is_look(task)), lambda task: task.day)
    return JobMonth(
        first=tasks[0].day,
        days=tuple(_day(report, day, tuple(own)) for day, own in days),
        looks=_looks(task for task in tasks if is_look(task)),
    )


def _day(report: SeasonReport, day: date, tasks: tuple[Task, ...]) -> JobDay:
    return JobDay(
        day=day,
        gathers=tuple(gather for gather in report.gathers if gather.day == day),
        tasks=tasks,
        methods=tuple(dict.fromkeys(words for task in tasks for words in method_words(report, task))),
    )


def _looks(tasks: Iterable[Task]) -> tuple[Looks, ...]:
    by_group: dict[tuple[str, int | None], list[Task]] = {}
    for task in tasks:
        by_group.setdefault((task.group or "", task.head), []).append(task)
    return tuple(Looks(group=group, head=head, tasks=tuple(own)) for (group, head), own in by_group.items())


def is_look(task: Task) -> bool:
    """Whether the task is one of the regular looks at a whole mob."""
    return task.kind == "recheck" and task.cohort is None


def _order(task: Task) -> tuple[date, int, str, str]:
    return (task.day, KIND_ORDER.index(task.kind), task.group or "", task.uid)


def coming(report: SeasonReport) -> tuple[Coming, ...]:
    """What comes first from the day of the plan on, in order; of the regular looks only those of the next day."""
    today = report.plan.made_for
    ahead = sorted((task for task in report.plan.tasks if task.status == "planned" and task.day >= today), key=_order)
    work = [task for task in ahead if not is_look(task)][:NEXT_MOST]
    looks = [task for task in ahead if is_look(task)]
    lines = [Coming(day=task.day, text=headline(report, task), task=task) for task in work]
    if looks:
        groups = "; ".join(task.group or "" for task in looks if task.day == looks[0].day)
        lines.append(Coming(day=looks[0].day, text=f"Look over {groups}", task=looks[0]))
    return tuple(sorted(lines, key=lambda line: line.day))


def missed_tasks(report: SeasonReport) -> tuple[Task, ...]:
    """Past planned doses that the record does not answer."""
    return tuple(sorted((task for task in report.plan.tasks if task.status == "missed"), key=_order))


def cancelled_tasks(report: SeasonReport) -> tuple[Task, ...]:
    """Tasks of the earlier plan that are called off."""
    return tuple(sorted((task for task in report.plan.tasks if task.status == "cancelled"), key=_order))


def open_points(conflicts: Iterable[Conflict]) -> OpenPoints:
    """Stops, then whatever has choices, need a decision; other warnings are to be watched; notes are to be known."""
    decide, watch, know = [], [], []
    for conflict in conflicts:
        if conflict.severity == "stop" or conflict.choices:
            decide.append(conflict)
        elif conflict.severity == "warn":
            watch.append(conflict)
        else:
            know.append(conflict)
    decide.sort(key=lambda conflict: conflict.severity != "stop")
    return OpenPoints(decide=tuple(decide), watch=tuple(watch), know=tuple(know))
