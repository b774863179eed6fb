"""The doses of a plan among the courses that the planner chose from."""

from collections.abc import Sequence
from functools import cached_property

from msgspec import Struct

from scheduler import planner
from scheduler.plan.numbers import Lot, new_doses
from scheduler.plan.settle import Question, Settled
from scheduler.season import Dose
from scheduler.words import Target


class Place(Struct, frozen=True):
    """Where a dose stands: number of its cohort, its lot, and the number of its course in the lot."""

    dose: Dose
    number: int
    lot: Lot
    course: int

    @property
    def duty(self) -> tuple[int, ...] | None:
        """Numbers of the courses of the duty that the course stands in; None where it was free to choose."""
        start = 0
        for duty in self.lot.duties:
            if start <= self.course < start + len(duty.courses):
                return tuple(range(start, start + len(duty.courses)))
            start += len(duty.courses)
        return None

    @property
    def is_owed(self) -> bool:
        """Whether it is the repeat of a recorded first dose."""
        return self.dose.first_day is not None and not self.lot.courses[self.course].doses[0].is_ours

    @property
    def free(self) -> range:
        """Numbers of the courses of the lot that stand in no duty."""
        return range(len(self.lot.courses) - len(self.lot.free), len(self.lot.courses))


class PlacedPlan(Struct, frozen=True, dict=True):
    """A question with its answer, and the courses that the answer is made of."""

    question: Question
    settled: Settled

    @cached_property
    def chosen(self) -> tuple[tuple[int, ...], ...]:
        """Numbers of the courses chosen, by cohort."""
        return tuple(_chosen(lot, self.settled.doses.of(lot.cohort)) for lot in self.question.lots)

    def place(self, dose: Dose) -> Place:
        """The place of a dose that is still to be given."""
        for number, lot in enumerate(self.question.lots):
            if lot.cohort.id == dose.cohort.id:
                for course in self.chosen[number]:
                    if any(_key(other) == _key(dose) for other in new_doses(lot.courses[course])):
                        return Place(dose, number, lot, course)
        raise LookupError(dose.key)

    def targets(self, dose: Dose) -> frozenset[Target]:
        """Targets of the plan that a dose is against."""
        return frozenset(dose.use.targets) & frozenset(self.question.season.targets)

    def cohort(self, place: Place) -> planner.Cohort:
        """The cohort of a dose as the planner has it."""
        return self.question.problem.cohorts[place.number]


def _chosen(lot: Lot, doses: Sequence[Dose]) -> tuple[int, ...]:
    given = {_key(dose) for dose in doses}
    return tuple(
        number
        for number, course in enumerate(lot.courses)
        if (ours := new_doses(course)) and all(_key(dose) in given for dose in ours)
    )


def _key(dose: Dose) -> tuple[object, ...]:
    return (dose.key, dose.first_day, dose.origin)
