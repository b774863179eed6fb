"""Every lawful way of dosing each cohort: the courses that the planner may choose from."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from functools import cached_property

from msgspec.structs import replace

from scheduler.facts import facts
from scheduler.farm import Direction
from scheduler.labels import Label, RepeatDuty, Use
from scheduler.rules import RULES, least_days
from scheduler.season import Cohort, Course, Dose, Doses, Season
from scheduler.words import Span

PLANNED_BY = tuple(rule for rule in RULES if rule.severity == "stop" or rule.slug == "too-early")
DOSE_RULES = tuple(rule for rule in PLANNED_BY if rule.dose is not None)
REPEAT_RULES = tuple(rule for rule in DOSE_RULES if rule.slug != "too-early")
COURSE_RULES = tuple(rule for rule in PLANNED_BY if rule.course is not None)
APART_RULES = tuple(rule for rule in PLANNED_BY if rule.apart is not None)
COUNT_RULES = tuple(rule for rule in PLANNED_BY if rule.count is not None)


class Options:
    """Lawful courses of one cohort, given the doses that are fixed for it (recorded or missed)."""

    def __init__(self, season: Season, cohort: Cohort, fixed: Sequence[Dose]) -> None:
        self.season = season
        self.cohort = cohort
        self.fixed = tuple(fixed)
        self._repeats: dict[tuple[str, str, date, date], bool] = {}

    @cached_property
    def window(self) -> Span:
        """Days on which the cohort may be dosed: in the season, from made_for on, while it is on the farm."""
        first = max(self.season.first_day, self.season.presence.comes(self.cohort.group))
        leaves = self.cohort.leaves
        last = self.season.span.last if leaves is None else min(self.season.span.last, leaves - timedelta(days=1))
        return Span(first, last)

    def courses(self) -> Iterator[Course]:
        """Every lawful course whose use has a target of the plan, in order of label, use and day."""
        for label, use in self.season.uses():
            if set(use.targets) & set(self.season.targets) and self._has_room(label):
                for day in self.window.days():
                    yield from self.courses_on(label, use, day)

    def courses_on(self, label: Label, use: Use, day: date) -> Iterator[Course]:
        """Every lawful course that begins on one day of the window."""
        if day not in self.window:
            return
        first = Dose(day=day, cohort=self.cohort, label=label, use=use)
        if not self._stands(first):
            return
        duty = self.season.repeat_duty(self.cohort, use, day)
        if duty is None:
            yield from self.lawful([Course(first=first)])
        else:
            yield from self.with_repeats(first, duty)

    def with_repeats(self, first: Dose, duty: RepeatDuty) -> list[Course]:
        """The first dose with each lawful day of the repeat that it obliges."""
        days = repeat_days(first.day, duty)
        return self.lawful([Course(first=first, repeat=self.repeat_of(first, day)) for day in days.days()])

    def repeat_of(self, first: Dose, day: date) -> Dose:
        """The repeat of a first dose, on a day; what the keeper began may need and have a vet's direction."""
        repeat = Dose(day=day, cohort=self.cohort, label=first.label, use=first.use, first_day=first.day)
        return repeat if first.origin == "plan" else replace(repeat, directions=self._directions(repeat))

    def _directions(self, repeat: Dose) -> tuple[Direction, ...]:
        """The directions that a repeat leans on: those that set aside a rule which it breaks."""
        may = [rule for rule in REPEAT_RULES if rule.sets_aside]
        broken = [rule.slug for rule in may if rule.dose and rule.dose(self.season, repeat, self.fixed) is not None]
        return tuple(dict.fromkeys(row for slug in broken for row in self.season.directions(repeat, slug)))

    def lawful(self, courses: list[Course], late: bool = False) -> list[Course]:
        """Those of the courses that break no rule of courses and whose repeat may stand on its day.

        late: the repeat may fall later than the label has it.
        """
        rules = [rule for rule in COURSE_RULES if not (late and rule.slug == "lamb-repeat")]
        return [
            course
            for course in courses
            if (course.repeat is None or self.repeat_stands(course.repeat))
            and not any(rule.course and rule.course(self.season, course) for rule in rules)
        ]

    def repeat_stands(self, repeat: Dose) -> bool:
        """Whether a repeat may be given on its day."""
        key = (repeat.label.id, repeat.use.id, repeat.first_day or repeat.day, repeat.day)
        if key not in self._repeats:
            self._repeats[key] = repeat.day in self.season.window and self._stands(repeat)
        return self._repeats[key]

    def _stands(self, dose: Dose) -> bool:
        rules = DOSE_RULES if dose.first_day is None else REPEAT_RULES
        aside = {slug for row in dose.directions for slug in row.sets_aside}
        for rule in rules:
            if rule.dose and rule.dose(self.season, dose, self.fixed) is not None and rule.slug not in aside:
                return False
        return all(
            abs((dose.day - other.day).days) >= least_days(self.season, rule, dose, other)
            for other in self.fixed
            for rule in APART_RULES
        )

    def _has_room(self, label: Label) -> bool:
        caps = caps_left(self.season, self.fixed, label)
        return all(cap > 0 for cap in caps.values())


def repeat_days(first: date, duty: RepeatDuty) -> Span:
    """The days on which an obliged repeat may fall."""
    due = first + timedelta(days=duty.after_days)
    return Span(due, due + timedelta(days=facts().figures.repeat_slack_days.whole))


def reach(use: Use) -> timedelta:
    """From a first dose to the last day that it or its repeat could cover."""
    repeats = [repeat_days(date.min, repeat).last - date.min for repeat in use.repeats]
    return timedelta(days=max(use.protects_days)) + max(repeats, default=timedelta())


def caps_left(season: Season, fixed: Sequence[Dose], label: Label) -> dict[str, int]:
    """By key of each rule of count: how many more courses there may be if one of this label is among them."""
    left: dict[str, int] = {}
    for rule in COUNT_RULES:
        count = rule.count and rule.count(season, label)
        if not count:
            continue
        firsts = [course.first for course in Doses(fixed).courses if course.first and course.first.day in season.span]
        counts = [other for first in firsts if rule.count and (other := rule.count(season, first.label))]
        same = [other.most for other in counts if other.key == count.key]
        left[f"{rule.slug} {count.key}"] = min([count.most, *same]) - len(same)
    return left
