"""The plan as work: months with their days, what comes next, and what stands open."""

from collections.abc import Callable, Iterable, Iterator
from datetime import date
from itertools import groupby

from msgspec import Struct

from scheduler.plan import Conflict, Task
from scheduler.report.figures import clear_words
from scheduler.report.sentences import headline
from scheduler.report.view import Gather, SeasonReport

KIND_ORDER = ("season-opens", "order", "prepare", "dose", "recheck", "clear", "sale")
NEXT_MOST = 8


class DoseBlock(Struct, frozen=True, kw_only=True):
    """The doses of one label and use on one day; `first` is one of them."""

    first: Task
    tasks: tuple[Task, ...]


class ClearBlock(Struct, frozen=True, kw_only=True):
    """Sheep that are clear of one label from one day on, with all their clear dates; `first` is one of the tasks."""

    first: Task
    tasks: tuple[Task, ...]
    words: tuple[str, ...]


class JobDay(Struct, frozen=True, kw_only=True):
    """A day's gathers, doses, and whatever else is to be done on it."""

    day: date
    gathers: tuple[Gather, ...]
    doses: tuple[DoseBlock, ...]
    others: tuple[Task, ...]

    @property
    def has_sheet(self) -> bool:
        """Whether a dose is still to be given on the day, so that it has a job sheet."""
        return any(task.status == "planned" for block in self.doses for task in block.tasks)


class Looks(Struct, frozen=True, kw_only=True):
    """Days of a month on which mobs are looked over, for as long as they are at risk.

    mobs: names of the groups of each, with their head; tasks: those of all of them, on the same days.
    """

    mobs: tuple[tuple[str, int | None], ...]
    days: tuple[date, ...]
    tasks: tuple[Task, ...]


class JobMonth(Struct, frozen=True, kw_only=True):
    """A month of work, and the clear dates that fall in it; `first` is its earliest day with a task."""

    first: date
    days: tuple[JobDay, ...]
    looks: tuple[Looks, ...]
    clears: tuple[ClearBlock, ...]


class OpenPoints(Struct, frozen=True, kw_only=True):
    """Conflicts by what they ask for: a decision, sheep parted by weight, attention, or nothing."""

    decide: tuple[Conflict, ...]
    part: tuple[Conflict, ...]
    watch: tuple[Conflict, ...]
    know: tuple[Conflict, ...]


class Coming(Struct, frozen=True, kw_only=True):
    """A line of what comes next; `task` is the one it speaks of, or the first of several looks on its day."""

    day: date
    text: str
    task: Task


def job_months(report: SeasonReport) -> tuple[JobMonth, ...]:
    """All tasks but the cancelled, by month and day."""
    tasks = sorted((task for task in report.plan.tasks if task.status != "cancelled"), key=_order)
    return tuple(_month(report, tuple(month)) for _, month in groupby(tasks, lambda t: (t.day.year, t.day.month)))


def _month(report: SeasonReport, tasks: tuple[Task, ...]) -> JobMonth:
    days = groupby((task for task in tasks if task.kind != "clear" and not is_look(task)), lambda task: task.day)
    clears = _grouped((task for task in tasks if task.kind == "clear"), lambda task: (task.label, clear_words(task)))
    return JobMonth(
        first=tasks[0].day,
        days=tuple(_day(report, day, tuple(own)) for day, own in days),
        looks=_looks(task for task in tasks if is_look(task)),
        clears=tuple(ClearBlock(first=own[0], tasks=own, words=clear_words(own[0])) for own in clears),
    )


def _day(report: SeasonReport, day: date, tasks: tuple[Task, ...]) -> JobDay:
    doses = _grouped((task for task in tasks if task.kind == "dose"), lambda task: (task.label, task.use))
    return JobDay(
        day=day,
        gathers=tuple(gather for gather in report.gathers if gather.day == day),
        doses=tuple(DoseBlock(first=own[0], tasks=own) for own in doses),
        others=tuple(task for task in tasks if task.kind != "dose"),
    )


def _grouped(tasks: Iterable[Task], key: Callable[[Task], object]) -> Iterator[tuple[Task, ...]]:
    """The tasks by equal keys, in the order in which these first come."""
    groups: dict[object, list[Task]] = {}
    for task in tasks:
        groups.setdefault(key(task), []).append(task)
    return (tuple(own) for own in groups.values())


def _looks(tasks: Iterable[Task]) -> tuple[Looks, ...]:
    """Mobs that are looked over on the same days stand together."""
    mobs = list(_grouped(tasks, lambda task: (task.group, task.head)))
    days: dict[tuple[date, ...], list[tuple[Task, ...]]] = {}
    for own in mobs:
        days.setdefault(tuple(task.day for task in own), []).append(own)
    return tuple(
        Looks(
            mobs=tuple((own[0].group or "", own[0].head) for own in together),
            days=when,
            tasks=tuple(task for own in together for task in own),
        )
        for when, together in days.items()
    )


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
    """Stops, then whatever has choices, need a decision; other warnings are to be watched; notes are to be known.

    Uneven sheep that are only to be parted, dose by dose, stand apart, lest they hide what changes the season.
    """
    decide, part, watch, know = [], [], [], []
    for conflict in conflicts:
        if conflict.choices and all(choice.what == "split-group" for choice in conflict.choices):
            part.append(conflict)
        elif conflict.severity == "stop" or conflict.choices:
            decide.append(conflict)
        elif conflict.severity == "warn":
            watch.append(conflict)
        else:
            know.append(conflict)
    decide.sort(key=lambda conflict: conflict.severity != "stop")
    return OpenPoints(decide=tuple(decide), part=tuple(part), watch=tuple(watch), know=tuple(know))
