"""record.csv and wishes.csv: doses given, and doses that the keeper has in mind."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from msgspec.structs import replace

from scheduler.farm.cohorts import CohortNames
from scheduler.farm.model import RecordRow, Settings, Wish
from scheduler.farm.names import Doubts, Names, before_birth
from scheduler.tables import Cell, Columns, Fields, Gathered, day, line, number, text, whole, yes_no
from scheduler.words import Fault

RECORD = Columns(
    file="record.csv",
    required=("date", "group", "label", "use", "head"),
    optional=("cohort", "ml_per_head", "repeat_of", "given", "batch", "by", "note"),
)
WISHES = Columns(file="wishes.csv", required=("date", "group", "label", "use"), optional=("cohort", "repeat_of"))

PlannedFirst = tuple[str, str, str, date]
"""A first dose of an earlier plan: group or cohort, label, use, day."""


def read_record(
    rows: Iterable[Fields], names: Names, cohorts: CohortNames | None, doubts: Doubts
) -> Iterator[RecordRow]:
    """The doses given, without a fault. cohorts None: not all of them are known, so none is called unknown."""
    for row in rows:
        group = names.group(row)
        label, use = names.label_and_use(row)
        given = RecordRow(
            day=row.need("date", day),
            group=group,
            label=label,
            use=use,
            head=row.need("head", whole("head")),
            cohort=_cohort(row, group, cohorts),
            ml_per_head=row.get("ml_per_head", number("ml"), None),
            repeat_of=row.get("repeat_of", day, None),
            given=row.get("given", yes_no, True),
            batch=row.get("batch", text, ""),
            by=row.get("by", text, ""),
            note=row.get("note", text, ""),
            where=row.at,
        )
        before_birth(row, "date", given.day, names.group_of.get(group))
        _after_first(row, given)
        doubts.note(row)
        if not row.failed:
            yield given


def read_wishes(
    rows: Iterable[Fields], names: Names, cohorts: CohortNames | None, doubts: Doubts, season: Settings | None
) -> Iterator[Wish]:
    """The wishes without a fault; each lies in the season, where that could be read."""
    for row in rows:
        group = names.group(row)
        label, use = names.label_and_use(row)
        wish = Wish(
            day=row.need("date", day),
            group=group,
            label=label,
            use=use,
            cohort=_cohort(row, group, cohorts),
            repeat_of=row.get("repeat_of", day, None),
            where=row.at,
        )
        if season is not None and wish.day is not None and not season.start <= wish.day <= season.end:
            expected = f"the season goes from {season.start} to {season.end}"
            row.fault("date", f"found {wish.day}", expected, "write a day within it, or change the season")
        _after_first(row, wish)
        doubts.note(row)
        if not row.failed:
            yield wish


def _cohort(row: Fields, group: str | None, cohorts: CohortNames | None) -> str | None:
    def read(cell: Cell) -> str | Fault:
        fault = cohorts.fault(cell, group) if cohorts is not None and group is not None else None
        return fault or line(cell)

    return row.get("cohort", read, None)


def _after_first(row: Fields, dose: RecordRow | Wish) -> None:
    if dose.repeat_of is not None and dose.day is not None and dose.day <= dose.repeat_of:
        expected = f"the second dose is dated {dose.day}"
        row.fault("repeat_of", f"found {dose.repeat_of}", expected, "write the day of the first dose, which is earlier")


def check_repeats(
    record: Sequence[RecordRow],
    wishes: Sequence[Wish],
    planned: Iterable[PlannedFirst],
    doubts: Doubts,
    gathered: Gathered,
) -> None:
    """Takes in a fault for each second dose whose first stands neither in the tables nor among the doses planned."""
    firsts: dict[tuple[str, str, str, date], set[str | None]] = defaultdict(set)
    doses: list[RecordRow | Wish] = [*record, *wishes]
    for dose in doses:
        if dose.repeat_of is None:
            firsts[dose.group, dose.label, dose.use, dose.day].add(dose.cohort)
    for who, label, use, first_day in planned:
        firsts[who.partition("/")[0], label, use, first_day].add(who if "/" in who else None)
    for dose in doses:
        if dose.repeat_of is None or doubts.about(dose.group):
            continue
        cohorts = firsts.get((dose.group, dose.label, dose.use, dose.repeat_of), set())
        if not any(_same_sheep(dose.cohort, first) for first in cohorts):
            gathered.add(_no_first(dose, dose.repeat_of))


def _same_sheep(second: str | None, first: str | None) -> bool:
    """Whether a second dose may belong to a first: found animals may have had theirs before they were set apart."""
    return second is None or first is None or second == first or "/found-" in second


def _no_first(dose: RecordRow | Wish, first: date) -> Fault:
    return Fault(
        replace(dose.where, column="repeat_of"),
        found=f"found {first}",
        expected=f'"{dose.cohort or dose.group}" has no first dose of "{dose.label}", use "{dose.use}", on that day',
        mend="write the day of the first dose, or enter that dose too",
    )
