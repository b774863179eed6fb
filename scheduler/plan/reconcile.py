"""The earlier plan held against the record: what was done, what was given up, what was missed, what is still open."""

from collections.abc import Callable, Iterable, Iterator
from datetime import date

from msgspec import Struct, field
from msgspec.structs import replace

from scheduler.facts import facts
from scheduler.farm import RecordRow
from scheduler.plan.earlier import EarlierPlan
from scheduler.plan.model import Task
from scheduler.plan.uids import carry_over, series_of
from scheduler.season import Cohort, Dose, Season, concerned
from scheduler.words import Where

DoseId = tuple[date, str, str, str, date | None, Where | None]
"""What tells one dose of a list from the others; Dose values are copied on their way, so that `is` will not do."""


def dose_id(dose: Dose) -> DoseId:
    """(day, cohort, label, use, day of the first dose, row of the record or the wishes)."""
    return (dose.day, dose.cohort.id, dose.label.id, dose.use.id, dose.first_day, dose.where)


class Reconciled(Struct, frozen=True, kw_only=True):
    """The dose tasks of the earlier plan, sorted by what became of them. Uids are those of the earlier plan.

    done: the recorded dose that did it (also of doses recorded without having been planned). told: those of them that
    the plan shows whatever their day; of an older season only what was answered just now.
    declined: answered by a row with given = no; they stay `missed`, and nothing more is asked.
    missed: doses of the past without a row, for rules: they bind as if given and give nothing. `missed_uids` names
    their tasks. lapsed: all tasks that are `missed`, declined ones and those of cohorts long gone included.
    open: planned, not past and not done, by (cohort, label, use), in order of date.
    """

    done: dict[str, Dose] = field(default_factory=dict)
    told: frozenset[str] = frozenset()
    declined: frozenset[str] = frozenset()
    missed: tuple[Dose, ...] = ()
    missed_uids: dict[DoseId, str] = field(default_factory=dict)
    lapsed: tuple[Task, ...] = ()
    open: dict[tuple[str, str, str], tuple[Task, ...]] = field(default_factory=dict)


class _Answer(Struct, frozen=True):
    """What a row of the record says of one cohort: given, with the dose, or not."""

    row: RecordRow
    cohort: Cohort
    whole: bool
    dose: Dose | None

    def is_like(self, task: Task) -> bool:
        """Same label and use; first with first, repeat with repeat."""
        same = (task.label, task.use) == (self.row.label, self.row.use)
        return same and (task.repeat_of is None) == (self.row.repeat_of is None)


class _Matching:
    """Pairs of tasks and answers: each task and each answer once."""

    def __init__(self, tasks: Iterable[Task], answers: Iterable[_Answer]) -> None:
        self.tasks = list(tasks)
        self._days = {task.uid: {task.day} for task in self.tasks}
        self.answers = list(answers)
        self.pairs: dict[str, _Answer] = {}

    def pair(self, task: Task, answer: _Answer) -> None:
        self.pairs[task.uid] = answer
        self._days[task.uid].add(answer.row.day)
        self.tasks.remove(task)
        self.answers.remove(answer)

    def nearest(self, may: Callable[[Task, _Answer], bool], within: int) -> None:
        """Pairs all that may go together, the nearest first; of equally near ones the earlier task.

        First doses go before repeats: the day on which one was done tells which repeats are of its course.
        """
        near = [
            (task.repeat_of is not None, abs((answer.row.day - task.day).days), task.day, answer.row.day, place, number)
            for place, task in enumerate(self.tasks)
            for number, answer in enumerate(self.answers)
            if answer.is_like(task) and may(task, answer)
        ]
        tasks, answers = list(self.tasks), list(self.answers)
        free_tasks, free_answers = set(range(len(tasks))), set(range(len(answers)))
        for _, days, _, _, place, number in sorted(near):
            free = place in free_tasks and number in free_answers
            if days <= within and free and self._is_of_one_course(tasks[place], answers[number]):
                free_tasks.discard(place)
                free_answers.discard(number)
                self.pair(tasks[place], answers[number])

    def _is_of_one_course(self, task: Task, answer: _Answer) -> bool:
        """Whether the row of a repeat names the first dose of the task's course, by the day planned or that done."""
        days = self._days.get(task.repeat_of or "")
        return days is None or answer.row.repeat_of in days


def reconcile(season: Season, earlier: EarlierPlan | None) -> Reconciled:
    """What became of the earlier plan's dose tasks, by the rows of record.csv and the day of this plan."""
    if earlier is None:
        return Reconciled()
    tasks = [task for task in earlier.tasks if task.kind == "dose" and task.status != "cancelled"]
    matching = _Matching(tasks, _answers(season))
    _match(season, matching)
    rest = [task for task in matching.tasks if not _only_recorded(task)]
    past = [task for task in rest if task.day < season.made_for]
    declined = [task for task in tasks if task.uid in matching.pairs and matching.pairs[task.uid].dose is None]
    done = {uid: answer.dose for uid, answer in matching.pairs.items() if answer.dose is not None}
    first_days = {task.uid: task.day for task in tasks} | {uid: dose.day for uid, dose in done.items()}
    missed = [(task.uid, dose) for task in past for dose in _missed(season, task, first_days)]
    same_season = earlier.start.year == season.settings.start.year
    return Reconciled(
        done=done,
        told=frozenset(task.uid for task in tasks if task.uid in done and (same_season or task.status != "done")),
        declined=frozenset(task.uid for task in declined),
        missed=tuple(dose for _, dose in missed),
        missed_uids={dose_id(dose): uid for uid, dose in missed},
        lapsed=tuple(task for task in tasks if task in past or task in declined),
        open=_by_series(task for task in rest if task.day >= season.made_for) if same_season else {},
    )


def _match(season: Season, matching: _Matching) -> None:
    """First what was done before, on its own day; then the nearest; then tasks of cohorts that are no more."""
    here = {cohort.id for cohort in season.cohorts}
    within = facts().figures.done_within_days.whole
    matching.nearest(lambda task, answer: _was_done(task, answer) and task.cohort == answer.cohort.id, 0)
    matching.nearest(lambda task, answer: _answers_plan(task, answer) and task.cohort == answer.cohort.id, within)
    matching.nearest(lambda task, answer: _answers_plan(task, answer) and task.cohort not in here
                     and _stood_for(task, answer), within)  # fmt: skip
    _rewritten(matching)


def _was_done(task: Task, answer: _Answer) -> bool:
    """Done before by a row that still does it; a row of fewer head does only what was never planned."""
    return task.status == "done" and answer.dose is not None and (answer.whole or _only_recorded(task))


def _answers_plan(task: Task, answer: _Answer) -> bool:
    return answer.whole and not _only_recorded(task)


def _stood_for(task: Task, answer: _Answer) -> bool:
    """Whether a row for this cohort speaks for the cohort of the task, which the farm no longer has."""
    cohort, row = answer.cohort, answer.row
    taken = cohort.source == task.cohort and cohort.finding is not None and row.day < cohort.finding.day
    return taken or (row.cohort is None and cohort.group.name == task.group)


def _rewritten(matching: _Matching) -> None:
    """Doses recorded without a plan keep their tasks when the date of the row is mended."""
    tasks: dict[tuple[object, ...], list[Task]] = {}
    for task in sorted(matching.tasks, key=lambda task: (task.day, task.uid)):
        if _only_recorded(task):
            tasks.setdefault((*series_of(task), task.repeat_of is None), []).append(task)
    answers: dict[tuple[object, ...], list[_Answer]] = {}
    for answer in sorted(matching.answers, key=lambda answer: answer.row.day):
        row = answer.row
        if answer.dose is not None:
            series = ("dose", answer.cohort.id, row.label, row.use, row.repeat_of is None)
            answers.setdefault(series, []).append(answer)
    for kept, old in tasks.items():
        new = answers.get(kept, [])
        for answer, place in zip(new, carry_over([a.row.day for a in new], [t.day for t in old]), strict=True):
            if place is not None:
                matching.pair(old[place], answer)


def _only_recorded(task: Task) -> bool:
    """Whether the task was made from the record alone: what was planned says why."""
    return task.status == "done" and not task.because


def _answers(season: Season) -> Iterator[_Answer]:
    """What every row of the record says, once a cohort that it concerns."""
    given = {(dose.where, dose.cohort.id): dose for dose in season.record}
    for row in season.farm.record:
        cohorts = concerned(season.cohorts, row.group, row.cohort, row.day)
        whole = row.head >= sum(cohort.head for cohort in cohorts)
        for cohort in cohorts:
            if whole or row.given:
                yield _Answer(row, cohort, whole, given.get((row.where, cohort.id)) if row.given else None)


def _missed(season: Season, task: Task, first_days: dict[str, date]) -> Iterator[Dose]:
    """The dose that was not recorded, for each cohort of today that it would have been given to."""
    label = season.farm.labels.get(task.label or "")
    use = None if label is None else label.use(task.use or "")
    if label is None or use is None:
        return
    first_day = None if task.repeat_of is None else first_days.get(task.repeat_of)
    for cohort in concerned(season.cohorts, task.group or "", task.cohort, task.day):
        yield Dose(day=task.day, cohort=cohort, label=label, use=use, first_day=first_day, origin="missed")


def _by_series(tasks: Iterable[Task]) -> dict[tuple[str, str, str], tuple[Task, ...]]:
    found: dict[tuple[str, str, str], list[Task]] = {}
    for task in sorted(tasks, key=lambda task: (task.day, task.uid)):
        key = (task.cohort or "", task.label or "", task.use or "")
        found.setdefault(key, []).append(replace(task, status="planned"))
    return {key: tuple(same) for key, same in found.items()}
