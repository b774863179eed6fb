"""Work around the doses: preparing, ordering, selling, and the days from which sheep are clear."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from scheduler.farm import Sale
from scheduler.plan.clearing import clear_of
from scheduler.plan.model import Because, Clear, Shopping, Task
from scheduler.plan.reconcile import DoseId, dose_id
from scheduler.plan.sentences import clear_text, order_text, prepare_text, sale_text
from scheduler.plan.uids import Uids
from scheduler.plan.workdays import day_before, job_day
from scheduler.season import Course, Dose, Doses, Season
from scheduler.words import say_day


def prepare_tasks(season: Season, shown: Iterable[Dose]) -> list[Task]:
    """A preparation for each day with doses still to be given, still without uid."""
    days: dict[date, list[Dose]] = {}
    for dose in shown:
        if dose.is_ours:
            days.setdefault(dose.day, []).append(dose)
    return [_preparation(season, day, doses) for day, doses in sorted(days.items())]


def _preparation(season: Season, day: date, doses: Sequence[Dose]) -> Task:
    cohorts = {dose.cohort.id: dose.cohort for dose in doses}.values()
    return Task(
        uid="",
        kind="prepare",
        day=day_before(season, day),
        group="; ".join(dict.fromkeys(cohort.group.name for cohort in cohorts)),
        head=sum(cohort.head for cohort in cohorts),
        text=prepare_text(season, day, doses),
    )


def order_tasks(season: Season, shopping: Iterable[Shopping]) -> list[Task]:
    """An order for each label with something to buy, still without uid."""
    return [
        Task(
            uid="",
            kind="order",
            day=job_day(season, line.order_by),
            label=line.label,
            text=order_text(season, line),
        )
        for line in shopping
        if line.order_by is not None
    ]


def sale_tasks(season: Season, uids: Uids) -> list[Task]:
    """Every row of sales.csv; sales before made_for are done."""
    return [_sale(season, sale, uids) for sale in season.farm.sales]


def _sale(season: Season, sale: Sale, uids: Uids) -> Task:
    name = f"{sale.group}/{sale.name}"
    return Task(
        uid=uids.named("sale", sale.name, sale.group),
        kind="sale",
        day=sale.day,
        cohort=name if any(cohort.id == name for cohort in season.cohorts) else None,
        group=sale.group,
        head=sale.head,
        text=sale_text(sale),
        status="done" if sale.day < season.made_for else "planned",
    )


def clear_tasks(season: Season, doses: Doses, dose_uids: Mapping[DoseId, str], uids: Uids) -> list[Task]:
    """The first day on which sheep may go for meat, once a course and cohort, where the label states it.

    dose_uids: of the doses that are tasks, missed ones too: they hold withdrawal as if given.
    """
    found: dict[str, Task] = {}
    for course in doses.courses:
        clear = clear_of(season, course)
        first_uid = dose_uids.get(dose_id(course.doses[0]))
        if clear.meat is not None and first_uid is not None:
            task = _clear(season, course, clear, clear.meat, first_uid, uids)
            found.setdefault(task.uid, task)
    return list(found.values())


def _clear(season: Season, course: Course, clear: Clear, day: date, first_uid: str, uids: Uids) -> Task:
    dose = course.last
    slug = "organic-withdrawal" if season.settings.organic else "meat-withdrawal"
    return Task(
        uid=uids.named("clear", dose.cohort.id, first_uid),
        kind="clear",
        day=day,
        cohort=dose.cohort.id,
        group=dose.cohort.group.name,
        head=dose.cohort.head,
        label=dose.label.id,
        use=dose.use.id,
        clear=clear,
        text=clear_text(season, dose, clear),
        because=(Because(slug, f"Counted from the last dose of the course, {say_day(dose.day)}."),),
        status="done" if day < season.made_for else "planned",
    )
