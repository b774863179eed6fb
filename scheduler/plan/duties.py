"""Duties: doses that must stand in the plan. Repeats owed by the record first, then the keeper's wishes."""

from collections.abc import Callable, Iterator, Sequence
from datetime import timedelta

from msgspec import Struct, field

from scheduler.farm import Wish
from scheduler.plan.options import Options, repeat_days
from scheduler.rules import Breach, of_dose, with_directions
from scheduler.season import Cohort, Course, Dose, Doses, Season, sale_bar, wished
from scheduler.verify import stop_breaches
from scheduler.words import Span, say_day


class Duty(Struct, frozen=True):
    """Exactly one of these courses of one cohort is in the plan. A first dose of the record is not given again."""

    cohort: Cohort
    courses: tuple[Course, ...]


Fits = Callable[[Sequence[Duty]], bool]
"""Whether duties can all be met together; the planner answers."""


class Duties(Struct, dict=True):
    """The duties taken so far, and what had to be said on the way."""

    season: Season
    options: dict[str, Options]
    fits: Fits
    taken: list[Duty] = field(default_factory=list)
    said: list[Breach] = field(default_factory=list)

    def take_owed(self) -> None:
        """Repeats that a recorded first dose obliges and that are neither recorded nor written off."""
        for cohort in self.season.cohorts:
            for course in Doses(self.options[cohort.id].fixed).courses:
                is_open = course.repeat is None or not course.repeat.whole
                if course.first is not None and course.first.origin == "record" and is_open:
                    self._take_owed(cohort, course.first)

    def _take_owed(self, cohort: Cohort, first: Dose) -> None:
        duty = self.season.repeat_duty(cohort, first.use, first.day)
        key = (cohort.id, first.label.id, first.use.id, first.day)
        if duty is None or key in self.season.waived_repeats:
            return
        due = repeat_days(first.day, duty)
        if due.last < self.season.span.first:
            return
        in_time = self._repeats(cohort, first, Span(max(due.first, self.season.first_day), due.last))
        if in_time and self._try(Duty(cohort, tuple(in_time))):
            return
        start = max(due.last + timedelta(days=1), self.season.first_day)
        for late in self._repeats(cohort, first, Span(start, self.season.span.last)):
            if self._try(Duty(cohort, (late,))):
                self.said += self._late(cohort, first, late)
                return
        self.said.append(self._never(cohort, first, due))

    def _repeats(self, cohort: Cohort, first: Dose, span: Span) -> list[Course]:
        """The recorded first dose with each lawful day of its repeat; the lateness itself is no reason here."""
        options = self.options[cohort.id]
        return options.lawful(
            [Course(first=first, repeat=options.repeat_of(first, day)) for day in span.days()], late=True
        )

    def _try(self, duty: Duty) -> bool:
        if not self.fits([*self.taken, duty]):
            return False
        self.taken.append(duty)
        return True

    def _late(self, cohort: Cohort, first: Dose, late: Course) -> Iterator[Breach]:
        fixed = [dose for dose in self.options[cohort.id].fixed if dose is not first]
        for breach in stop_breaches(self.season, Doses([*fixed, *late.doses])):
            if breach.rule == "lamb-repeat" and breach.dose is first:
                yield breach

    def _never(self, cohort: Cohort, first: Dose, due: Span) -> Breach:
        text = f"the repeat due {say_day(due.first)} to {say_day(due.last)} finds no lawful day in the season"
        return of_dose(self._missing_slug(first, due), first, text)

    def _missing_slug(self, first: Dose, due: Span) -> str:
        """The rule that keeps a repeat out: the sale, where the cohort has left or would not be clear by then."""
        course = Course(first=first, repeat=self.options[first.cohort.id].repeat_of(first, due.first))
        barred = first.cohort.has_left(due.first) or sale_bar(self.season, course) is not None
        return "repeat-before-sale" if barred else "lamb-repeat"

    # Wishes

    def take_wishes(self) -> None:
        """Wishes in order of date, then row, cohorts within a row by id; the unlawful are left out, and said."""
        for wish in sorted(self.season.farm.wishes, key=lambda wish: (wish.day, wish.where.row or 0)):
            doses = wished(self.season.farm, self.season.cohorts, wish)
            for dose in doses:
                self.said += self._wish_first(dose) if dose.first_day is None else self._wish_repeat(dose)
            if not doses:
                self.said.append(all_gone(wish))

    def _wish_first(self, dose: Dose) -> list[Breach]:
        """Takes a wished first dose with the repeat it obliges; what it breaks, where it cannot be taken."""
        dose, refusals = self._judged(dose)
        if refusals:
            return refusals
        duty = self.season.repeat_duty(dose.cohort, dose.use, dose.day)
        options = self.options[dose.cohort.id]
        courses = [Course(first=dose)] if duty is None else options.with_repeats(dose, duty)
        if courses and self._try(Duty(dose.cohort, tuple(courses))):
            return []
        if duty is None:
            text = "with it the repeats that are owed could not all be given"
            return [of_dose("lamb-repeat", dose, text)]
        due = repeat_days(dose.day, duty)
        text = f"its repeat, due {say_day(due.first)} to {say_day(due.last)}, finds no lawful day"
        return [of_dose(self._missing_slug(dose, due), dose, text)]

    def _wish_repeat(self, dose: Dose) -> list[Breach]:
        """Fixes the day of a repeat that a duty already holds."""
        place = next((n for n, duty in enumerate(self.taken) if _holds_course(duty, dose)), None)
        if place is None:
            if self._try_planned_first(dose):
                return []
            _, refusals = self._judged(dose)
            text = f"no course of {say_day(dose.first_day or dose.day)} in the plan waits for this repeat"
            return refusals or [of_dose("lamb-repeat", dose, text)]
        old = self.taken[place]
        fitting = [course for course in old.courses if course.repeat is not None and course.repeat.day == dose.day]
        fixed = Duty(old.cohort, tuple(Course(first=course.first, repeat=dose) for course in fitting))
        if fitting and self.fits([*self.taken[:place], fixed, *self.taken[place + 1 :]]):
            self.taken[place] = fixed
            return []
        first = old.courses[0].first
        _, refusals = self._judged(dose, () if first is None else (first,))
        text = "not on a day that the label and the rest of the plan leave for this repeat"
        return refusals or [of_dose("lamb-repeat", dose, text)]

    def _try_planned_first(self, repeat: Dose) -> bool:
        """Takes the course whose first dose the planner may give on the day named, with the repeat as wished."""
        options = self.options[repeat.cohort.id]
        courses = options.courses_on(repeat.label, repeat.use, repeat.first_day or repeat.day)
        wished = [course for course in courses if course.repeat is not None and course.repeat.day == repeat.day]
        return any(self._try(Duty(repeat.cohort, (Course(first=course.first, repeat=repeat),))) for course in wished)

    def _judged(self, dose: Dose, beside: tuple[Dose, ...] = ()) -> tuple[Dose, list[Breach]]:
        """The dose, marked where a vet's direction carries it, and the stop rules that it breaks."""
        others = [*self._fixed_doses(), *beside]
        marked = with_directions(self.season, Doses([*others, dose]))
        mine = next(other for other in marked if _same(other, dose))
        broken = [
            breach
            for breach in stop_breaches(self.season, marked)
            if (breach.dose is not None and _same(breach.dose, dose))
            or (breach.rule == "daily-head" and breach.day == dose.day)
        ]
        return mine, [breach for breach in broken if breach.rule != "lamb-repeat" or dose.first_day is not None]

    def _fixed_doses(self) -> list[Dose]:
        """Recorded and missed doses, and the doses of duties that leave no choice of day."""
        doses = {id(dose): dose for options in self.options.values() for dose in options.fixed}
        for duty in self.taken:
            sure = [dose for dose in duty.courses[0].doses
                    if all(any(_same(dose, other) for other in course.doses) for course in duty.courses)]  # fmt: skip
            doses.update((id(dose), dose) for dose in sure)
        return list(doses.values())


def all_gone(wish: Wish) -> Breach:
    """What a wish for sheep that have all left breaks."""
    text = f"no sheep of {wish.group} are on the farm on {say_day(wish.day)}"
    return Breach(rule="away", text=text, group=wish.group, day=wish.day, where=wish.where)


def _same(one: Dose, other: Dose) -> bool:
    return one.key == other.key and one.first_day == other.first_day and one.where == other.where


def _holds_course(duty: Duty, repeat: Dose) -> bool:
    first = duty.courses[0].first
    return (
        first is not None
        and duty.cohort is repeat.cohort
        and (first.label.id, first.use.id, first.day) == (repeat.label.id, repeat.use.id, repeat.first_day)
        and duty.courses[0].repeat is not None
    )
