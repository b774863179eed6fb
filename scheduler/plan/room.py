"""Room to move: what it changes to give one dose otherwise while all else stands as planned. Nothing is planned."""

from collections.abc import Iterable, Iterator
from datetime import date

from msgspec import Struct

from scheduler import planner
from scheduler.plan.numbers import new_doses
from scheduler.plan.placed import Place, PlacedPlan
from scheduler.plan.whys import Change, Later, NextBest, Slip
from scheduler.season import Doses
from scheduler.verify import unlawful

LATER_SHOWN = 7
"""Most later days whose cost is told."""


class Swap(Struct, frozen=True):
    """Another course in the place of a planned one, by its number, and what it changes."""

    number: int
    exposed_sheep_days: int
    money_minor: int
    paid_gathers: int
    handlings: int

    @property
    def is_free(self) -> bool:
        """Whether it costs neither sheep-days nor money."""
        return (self.exposed_sheep_days, self.money_minor) == (0, 0)


class Room:
    """The courses that may stand in the place of that of a dose, all else as planned."""

    def __init__(self, plan: PlacedPlan, place: Place) -> None:
        self.plan, self.place = plan, place
        self.cohort = plan.cohort(place)
        self._problem = plan.question.problem
        chosen = [[n for n in own if number != place.number or n != place.course]
                  for number, own in enumerate(plan.chosen)]  # fmt: skip
        self._limits = planner.Beside(self._problem, chosen, place.number)
        self._beside = chosen[place.number]
        pairs = zip(self._problem.cohorts, chosen, strict=True)
        self._gathers = {dose.gather for cohort, own in pairs for n in own for dose in cohort.courses[n].doses}
        self._handled = {dose.day for n in self._beside for dose in self.cohort.courses[n].doses}
        met = {clause for n in self._beside for clause in self.cohort.courses[n].clauses}
        self._open = [(need.weight, rest) for need in self.cohort.needs if (rest := set(need.clauses) - met)]
        self._now = self._cost(place.course)
        self._by_day = self._same_kind()

    def at(self, day: date) -> Swap | None:
        """The same dose on another day; None where that is not lawful beside the rest of the plan.

        The repeat of a first dose stays where it may, else it moves as little as may be.
        """
        numbers = self._by_day.get(day, [])
        return next((self.swap(number) for number in numbers if self.is_lawful(number)), None)

    def days(self, later: bool) -> Iterator[tuple[date, Swap]]:
        """Lawful days after the dose's own in order, or before it in falling order."""
        own = self.place.dose.day
        days = sorted((day for day in self._by_day if (day > own if later else day < own)), reverse=not later)
        return ((day, swap) for day in days if (swap := self.at(day)) is not None)

    def slip(self) -> Slip:
        """How far the dose may slip for nothing, and what each later day costs."""
        free_to = self.place.dose.day
        then: list[Later] = []
        for day, swap in self.days(later=True):
            if swap.is_free and not then:
                free_to = day
            elif len(then) < LATER_SHOWN:
                then.append(Later(day, swap.exposed_sheep_days, swap.money_minor))
            else:
                break
        return Slip(free_to, tuple(then))

    def free_move(self) -> NextBest | None:
        """The nearest day on which the plan stays as good in every count: then no other plan can do better.

        None where there is none, or where another dose against the same stands on the day of this one.
        """
        dose, targets = self.place.dose, self.plan.targets(self.place.dose)
        if any(
            other.day == dose.day and targets & self.plan.targets(other)
            for number in self._beside
            for other in self.place.lot.courses[number].doses
        ):
            return None
        free = (
            day
            for day in sorted(self._by_day, key=lambda day: (abs((day - dose.day).days), day))
            if day != dose.day and (swap := self.at(day)) is not None
            and swap.is_free and swap.paid_gathers == swap.handlings == 0
        )  # fmt: skip
        day = next(free, None)
        return None if day is None else NextBest(day, Change(0, 0, 0))

    def swap(self, number: int) -> Swap:
        """What it changes to give this course instead."""
        new = self._cost(number)
        return Swap(number, *(one - other for one, other in zip(new, self._now, strict=True)))

    def is_lawful(self, number: int) -> bool:
        """Whether the course may stand beside all others of the plan."""
        return self._limits.may_take(number) and self._ends_no_finding_too_soon(number)

    def _ends_no_finding_too_soon(self, number: int) -> bool:
        """Where findings stand, doses of the cohort can rest on each other in ways that only the judge sees."""
        season, own = self.plan.question.season, self.place.lot
        if not any(season.findings.of(own.cohort, target) for target in season.targets):
            return True
        doses = [dose for n in [*self._beside, number] for dose in new_doses(own.courses[n])]
        return not unlawful(season, Doses([*own.fixed, *doses]))

    def best(self, numbers: Iterable[int]) -> Swap | None:
        """The lawful course of these that changes least for the worse."""
        swaps = [self.swap(number) for number in numbers if self.is_lawful(number)]
        return min(swaps, key=lambda swap: (swap.exposed_sheep_days, swap.money_minor, swap.number), default=None)

    def _cost(self, number: int) -> tuple[int, int, int, int]:
        """Exposure, money, paid gathers and handlings of a course beside the others."""
        course = self.cohort.courses[number]
        met = set(course.clauses)
        used = {dose.gather for dose in course.doses} - self._gathers
        return (
            sum(weight for weight, rest in self._open if not rest <= met),
            course.cost + sum(self._problem.gathers[gather].cost for gather in used),
            sum(self._problem.gathers[gather].paid for gather in used),
            len({dose.day for dose in course.doses} - self._handled),
        )

    def _same_kind(self) -> dict[date, list[int]]:
        """Courses that give the same dose, by its day, those whose other dose moves least first."""
        own, is_repeat = self.place.lot.courses[self.place.course], self.place.dose.first_day is not None
        found: dict[date, list[tuple[int, int]]] = {}
        for number in self.place.duty or self.place.free:
            course = self.place.lot.courses[number]
            same = (course.last.label.id, course.last.use.id) == (own.last.label.id, own.last.use.id)
            if not same or len(course.doses) != len(own.doses):
                continue
            if is_repeat and course.doses[0].day != own.doses[0].day:
                continue
            dose = course.last if is_repeat else course.doses[0]
            found.setdefault(dose.day, []).append((abs((course.last.day - own.last.day).days), number))
        return {day: [number for _, number in sorted(pairs)] for day, pairs in found.items()}
