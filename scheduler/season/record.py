"""What was given: rows of record.csv as doses of cohorts."""

from collections.abc import Iterable
from datetime import date

from scheduler.farm import Farm, RecordRow, Wish
from scheduler.labels import Label, Use
from scheduler.season.cohorts import Cohort
from scheduler.season.doses import Dose


def concerned(cohorts: Iterable[Cohort], group: str, cohort_id: str | None, day: date) -> list[Cohort]:
    """Cohorts that a row about a dose concerns: the one it names, else all of its group that have not left.

    Found sheep are concerned by what was given to the cohort they were taken from before the finding.
    """
    own = [cohort for cohort in cohorts if cohort.group.name == group]
    if cohort_id is None:
        return [cohort for cohort in own if not cohort.has_left(day)]
    return [
        cohort
        for cohort in own
        if cohort.id == cohort_id
        or (cohort.source == cohort_id and cohort.finding is not None and day < cohort.finding.day)
    ]


def label_use(farm: Farm, label: str, use: str) -> tuple[Label, Use]:
    """The label and use that a row names; LookupError where there is none (readers have refused such rows)."""
    found = farm.labels[label].use(use)
    if found is None:
        raise LookupError(use)
    return farm.labels[label], found


def recorded(farm: Farm, cohorts: tuple[Cohort, ...]) -> Iterable[Dose]:
    """All doses given, once a cohort; rows planned but not done are none."""
    return (dose for row in farm.record if row.given for dose in _doses_of(farm, cohorts, row))


def waived(farm: Farm, cohorts: tuple[Cohort, ...]) -> frozenset[tuple[str, str, str, date]]:
    """(cohort, label, use, day of the first dose) of the repeats that a row with given = no has ended."""
    return frozenset(
        (cohort.id, row.label, row.use, row.repeat_of)
        for row in farm.record
        if not row.given and row.repeat_of is not None
        for cohort in concerned(cohorts, row.group, row.cohort, row.day)
    )


def wished(farm: Farm, cohorts: tuple[Cohort, ...], wish: Wish) -> list[Dose]:
    """The doses that one wish stands for, cohorts by id; none where all of its sheep have left."""
    label, use = label_use(farm, wish.label, wish.use)
    meant = sorted(concerned(cohorts, wish.group, wish.cohort, wish.day), key=lambda cohort: cohort.id)
    return [
        Dose(day=wish.day, cohort=cohort, label=label, use=use, first_day=wish.repeat_of, origin="wish",
             where=wish.where)
        for cohort in meant
    ]  # fmt: skip


def _doses_of(farm: Farm, cohorts: tuple[Cohort, ...], row: RecordRow) -> list[Dose]:
    label, use = label_use(farm, row.label, row.use)
    given_to = concerned(cohorts, row.group, row.cohort, row.day)
    whole = row.head >= sum(cohort.head for cohort in given_to)
    return [
        Dose(day=row.day, cohort=cohort, label=label, use=use, first_day=row.repeat_of, origin="record", whole=whole,
             where=row.where)
        for cohort in given_to
    ]  # fmt: skip
