"""Dose tasks: planned, done and missed, each with every figure."""

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal

from msgspec.structs import replace

from scheduler.farm import RecordRow
from scheduler.plan.clearing import clear_of
from scheduler.plan.model import Protects, Task
from scheduler.plan.reasons import because_of
from scheduler.plan.reconcile import DoseId, Reconciled, dose_id
from scheduler.plan.sentences import dose_text, lapsed_text
from scheduler.plan.uids import Series, Uids, carry_over
from scheduler.season import Dose, Doses, Season, age_days
from scheduler.verify import dose_money
from scheduler.words import Where, times

NOTHING_PROTECTED = Protects(None, None, None)
DoseUids = dict[DoseId, str]


def shown_doses(season: Season, doses: Doses, reconciled: Reconciled) -> list[Dose]:
    """Doses that are tasks: those still to be given, and of the record those of the season, those that answered the
    earlier plan, and the first doses of repeats that are tasks."""
    told = {dose_id(dose) for uid, dose in reconciled.done.items() if uid in reconciled.told}
    recorded = [dose for dose in doses if dose.origin == "record"]
    shown = {id(dose) for dose in doses if dose.is_ours}
    shown |= {id(dose) for dose in recorded if dose.day in season.span or dose_id(dose) in told}
    repeats = [dose for dose in doses if dose.first_day is not None and (id(dose) in shown or dose.origin == "missed")]
    firsts = {(dose.cohort.id, dose.label.id, dose.use.id, dose.first_day) for dose in repeats}
    shown |= {id(dose) for dose in recorded if dose.first_day is None and _course_key(dose) in firsts}
    return [dose for dose in doses if id(dose) in shown]


def _course_key(dose: Dose) -> tuple[str, str, str, date]:
    return (dose.cohort.id, dose.label.id, dose.use.id, dose.first_day or dose.day)


def dose_uids(shown: Sequence[Dose], reconciled: Reconciled, uids: Uids) -> DoseUids:
    """The uid of every dose shown and of every missed one: the earlier plan's where it has it, else the next number."""
    ids = {dose_id(dose) for dose in shown}
    found = {dose_id(dose): uid for uid, dose in reconciled.done.items() if dose_id(dose) in ids}
    found |= reconciled.missed_uids
    series: dict[tuple[str, str, str], list[Dose]] = {}
    for dose in shown:
        if dose_id(dose) not in found:
            series.setdefault((dose.cohort.id, dose.label.id, dose.use.id), []).append(dose)
    for key, same in series.items():
        ours = [dose for dose in same if dose.is_ours]
        old = reconciled.open.get(key, ())
        places = carry_over([dose.day for dose in ours], [task.day for task in old])
        found |= {dose_id(dose): old[place].uid for dose, place in zip(ours, places, strict=True) if place is not None}
        _number(same, found, ("dose", *key), uids)
    return found


def _number(doses: Iterable[Dose], found: DoseUids, series: Series, uids: Uids) -> None:
    for dose in doses:
        if dose_id(dose) not in found:
            found[dose_id(dose)] = uids.next(series)


def first_uids(doses: Iterable[Dose], uids: DoseUids) -> dict[tuple[str, str, str, date], str]:
    """Uids of first doses by (cohort, label, use, day); of two on one day the one that still counts, then the first."""
    firsts = [dose for dose in doses if dose.first_day is None and dose_id(dose) in uids]
    firsts.sort(key=lambda dose: dose.origin == "missed", reverse=True)
    return {_course_key(dose): uids[dose_id(dose)] for dose in firsts}


def dose_tasks(season: Season, shown: Iterable[Dose], doses: Doses, uids: DoseUids) -> list[Task]:
    """A task for every dose shown."""
    firsts = first_uids(doses, uids)
    rows = {row.where: row for row in season.farm.record}
    return [_task(season, dose, doses, uids[dose_id(dose)], firsts, rows) for dose in shown]


def _task(
    season: Season,
    dose: Dose,
    doses: Doses,
    uid: str,
    firsts: dict[tuple[str, str, str, date], str],
    rows: dict[Where, RecordRow],
) -> Task:
    course = doses.course_of(dose)
    row = rows.get(dose.where) if dose.where is not None and dose.origin == "record" else None
    head = dose.cohort.head if dose.whole or row is None else min(row.head, dose.cohort.head)
    ml = _dose_ml(season, dose, row)
    task = Task(
        uid=uid,
        kind="dose",
        day=dose.day,
        cohort=dose.cohort.id,
        group=dose.cohort.group.name,
        head=head,
        label=dose.label.id,
        use=dose.use.id,
        targets=tuple(target for target in season.targets if target in dose.use.targets),
        repeat_of=None if dose.first_day is None else firsts.get(_course_key(dose)),
        dose_ml=ml,
        task_ml=None if ml is None else times(ml, head),
        heaviest_kg=season.weights.on(dose.cohort.group.name, dose.day).heaviest,
        age_days=age_days(dose.cohort.group, dose.day),
        protects=_protects(season, dose) if dose.works else NOTHING_PROTECTED,
        clear=clear_of(season, course),
        money_minor=dose_money(season, dose) if dose.is_ours else None,
        status="planned" if dose.is_ours else "done",
    )
    because = because_of(season, dose, course, task) if dose.is_ours else ()
    return replace(task, text=dose_text(season, dose, task), because=because)


def _dose_ml(season: Season, dose: Dose, row: RecordRow | None) -> Decimal | None:
    """Millilitres a head: as recorded, else as the label has it; None where only a vet can say."""
    if row is not None and row.ml_per_head is not None:
        return row.ml_per_head
    ml = season.dose_ml(dose)
    return ml if isinstance(ml, Decimal) else None


def _protects(season: Season, dose: Dose) -> Protects:
    cover = season.cover(dose.cohort, dose.use, dose.day)
    first, last = (cover.cover.first, cover.cover.last) if len(cover.cover) else (None, None)
    return Protects(first, last, cover.fading.last if len(cover.fading) else None)


def lapsed_tasks(reconciled: Reconciled) -> list[Task]:
    """Doses planned and not given, or not recorded, as the earlier plan had them."""
    return [
        replace(task, status="missed", money_minor=None, text=lapsed_text(task, task.uid in reconciled.declined))
        for task in reconciled.lapsed
    ]
