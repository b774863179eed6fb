"""Doses and courses: what is given to a cohort, whoever made the list."""

from collections.abc import Iterable, Iterator
from datetime import date
from functools import cached_property
from typing import Literal

from msgspec import Struct

from scheduler.farm import Direction
from scheduler.labels import Label, Use
from scheduler.season.cohorts import Cohort
from scheduler.words import Where

Origin = Literal["record", "missed", "wish", "plan"]
"""Recorded; planned in the past and not recorded; taken from wishes.csv; chosen by the planner."""


class Dose(Struct, frozen=True, kw_only=True):
    """One use given to one cohort on one day.

    first_day: day of the course's first dose where this is its repeat, else None.
    whole: False for a row of the record that names fewer head than it concerns: it binds and gives nothing.
    directions: the vet's written directions that the dose is off-label by.
    """

    day: date
    cohort: Cohort
    label: Label
    use: Use
    first_day: date | None = None
    origin: Origin = "plan"
    whole: bool = True
    where: Where | None = None
    directions: tuple[Direction, ...] = ()

    @property
    def works(self) -> bool:
        """Whether it gives cover and ends findings: given to the whole cohort, or planned."""
        return self.whole and self.origin != "missed"

    @property
    def is_ours(self) -> bool:
        """Whether it is still to be given: planned, or taken from a wish."""
        return self.origin in ("plan", "wish")

    @property
    def key(self) -> tuple[date, str, str, str]:
        """(date, cohort, label, use): the order in which plans are compared."""
        return (self.day, self.cohort.id, self.label.id, self.use.id)


class Course(Struct, frozen=True, kw_only=True, dict=True):
    """A first dose and its repeat. `first` is None where only the repeat is at hand."""

    first: Dose | None
    repeat: Dose | None = None

    @cached_property
    def doses(self) -> tuple[Dose, ...]:
        """First dose, then repeat, as far as they are there."""
        return tuple(dose for dose in (self.first, self.repeat) if dose is not None)

    @property
    def directions(self) -> tuple[Direction, ...]:
        """The vet's directions that any dose is off-label by: their withdrawal holds for the whole course."""
        return tuple(direction for dose in self.doses for direction in dose.directions)

    @property
    def last(self) -> Dose:
        """The last dose of the course: withdrawal counts from it."""
        return self.doses[-1]


class Doses:
    """Any list of doses, sorted, and the questions that rules ask of it."""

    def __init__(self, doses: Iterable[Dose]) -> None:
        self.all = tuple(sorted(doses, key=lambda dose: (dose.key, dose.first_day is not None)))

    def __iter__(self) -> Iterator[Dose]:
        return iter(self.all)

    @cached_property
    def by_cohort(self) -> dict[str, tuple[Dose, ...]]:
        """Doses of each cohort id, in order."""
        found: dict[str, list[Dose]] = {}
        for dose in self.all:
            found.setdefault(dose.cohort.id, []).append(dose)
        return {cohort: tuple(doses) for cohort, doses in found.items()}

    def of(self, cohort: Cohort) -> tuple[Dose, ...]:
        """The doses of one cohort, in order."""
        return self.by_cohort.get(cohort.id, ())

    @cached_property
    def courses(self) -> tuple[Course, ...]:
        """Each first dose with the repeat that names its day, one to the whole cohort before one to a part of it."""
        firsts = {_course_key(dose, dose.day): dose for dose in reversed(self.all) if dose.first_day is None}
        whole_last = sorted(self.all, key=lambda dose: (dose.whole, -dose.day.toordinal()))
        repeats = {_course_key(dose, dose.first_day): dose for dose in whole_last if dose.first_day is not None}
        paired = [Course(first=first, repeat=repeats.get(key)) for key, first in firsts.items()]
        lone = [Course(first=None, repeat=repeat) for key, repeat in repeats.items() if key not in firsts]
        return tuple(sorted(paired + lone, key=lambda course: course.doses[0].key))

    def course_of(self, dose: Dose) -> Course:
        """The course that a dose of this list belongs to."""
        return self._course_by_key[_course_key(dose, dose.first_day or dose.day)]

    @cached_property
    def _course_by_key(self) -> dict[tuple[str, str, str, date], Course]:
        return {_course_key(dose, dose.first_day or dose.day): course
                for course in self.courses for dose in course.doses}  # fmt: skip


def _course_key(dose: Dose, first_day: date) -> tuple[str, str, str, date]:
    return (dose.cohort.id, dose.label.id, dose.use.id, first_day)
