"""All tasks of a plan, with the uids and sequences of the plan before, and what that one had and this one has not."""

from collections.abc import Iterable, Sequence
from datetime import date

from msgspec.structs import replace

from scheduler.plan.earlier import EarlierPlan
from scheduler.plan.model import Task, TaskKind
from scheduler.plan.reconcile import Reconciled
from scheduler.plan.shopping import shopping_of
from scheduler.plan.tasks_doses import dose_tasks, dose_uids, lapsed_tasks, shown_doses
from scheduler.plan.tasks_looks import RiskDays, opening_tasks, recheck_tasks
from scheduler.plan.tasks_work import clear_tasks, order_tasks, prepare_tasks, sale_tasks
from scheduler.plan.uids import Series, Uids, carry_over, series_of
from scheduler.season import Doses, Season

KIND_ORDER: tuple[TaskKind, ...] = ("season-opens", "order", "prepare", "dose", "recheck", "clear", "sale")
"""Kinds of one day in the order in which they are read."""


def build_tasks(season: Season, doses: Doses, reconciled: Reconciled, earlier: EarlierPlan | None) -> tuple[Task, ...]:
    """Every task of the plan, by (day, kind, uid). doses: all that count: recorded, missed, and still to be given."""
    uids = Uids(season.settings, () if earlier is None else (task.uid for task in earlier.tasks))
    shown, risk = shown_doses(season, doses, reconciled), RiskDays(season, doses)
    names = dose_uids(shown, reconciled, uids)
    numbered = [
        *recheck_tasks(season, shown, risk),
        *prepare_tasks(season, shown),
        *order_tasks(season, shopping_of(season, doses)),
    ]
    tasks = [
        *dose_tasks(season, shown, doses, names),
        *lapsed_tasks(reconciled),
        *_numbered(numbered, _carried(season, earlier), uids),
        *opening_tasks(season, risk, uids),
        *sale_tasks(season, uids),
        *clear_tasks(season, doses, names, uids),
    ]
    return tuple(sorted([*_sequenced(tasks, earlier), *_cancelled(season, tasks, earlier)], key=_order))


def _order(task: Task) -> tuple[date, int, str]:
    return (task.day, KIND_ORDER.index(task.kind), task.uid)


def _carried(season: Season, earlier: EarlierPlan | None) -> list[Task]:
    """Tasks of the same season from which numbers carry over; those called off keep theirs."""
    if earlier is None or earlier.start.year != season.settings.start.year:
        return []
    return [task for task in earlier.tasks if task.status == "planned"]


def _numbered(tasks: Iterable[Task], carried: Iterable[Task], uids: Uids) -> list[Task]:
    """Tasks of the numbered kinds with their uids."""
    old = _by_series(task for task in carried if task.kind in ("recheck", "prepare", "order"))
    found = []
    for series, same in _by_series(tasks).items():
        before = old.get(series, [])
        places = carry_over([task.day for task in same], [task.day for task in before])
        for task, place in zip(same, places, strict=True):
            uid = uids.next(series) if place is None else before[place].uid
            found.append(replace(task, uid=uid))
    return found


def _by_series(tasks: Iterable[Task]) -> dict[Series, list[Task]]:
    """In order of date; two of one day by what they say, so that an unchanged one finds itself."""
    found: dict[Series, list[Task]] = {}
    for task in sorted(tasks, key=lambda task: (task.day, task.text, task.uid)):
        found.setdefault(series_of(task), []).append(task)
    return found


def _sequenced(tasks: Iterable[Task], earlier: EarlierPlan | None) -> list[Task]:
    """The tasks as successors of those of the same uid."""
    before = {} if earlier is None else {task.uid: task for task in earlier.tasks}
    return [_after(task, before[task.uid]) if task.uid in before else task for task in tasks]


def _after(task: Task, before: Task) -> Task:
    """The task with its sequence: raised by one where date, text or status changed (RFC 5545, 3.8.7.4).

    A dose that was planned and is done still says why it was planned.
    """
    same = (task.day, task.text, task.status) == (before.day, before.text, before.status)
    because = before.because if task.kind == "dose" and task.status == "done" else task.because
    return replace(task, sequence=before.sequence + (0 if same else 1), because=because)


def _cancelled(season: Season, tasks: Sequence[Task], earlier: EarlierPlan | None) -> list[Task]:
    """What the earlier plan had and this one has not, called off, until the end of the season it was made for."""
    if earlier is None or season.made_for > earlier.end:
        return []
    here = {task.uid for task in tasks}
    same_season = earlier.start.year == season.settings.start.year
    gone = [task for task in earlier.tasks if task.uid not in here and (same_season or task.status != "done")]
    return _sequenced([replace(task, status="cancelled", money_minor=None) for task in gone], earlier)
