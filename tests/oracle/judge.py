"""Judge any list of planned doses by every stop rule and too-early, and score it, with plain loops."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from itertools import combinations

from tests.oracle.flock import span
from tests.oracle.folder import Direction
from tests.oracle.physic import dose_ml, dose_money, gather_money, repeat_owed
from tests.oracle.rules import alone, aside, clash, course_sale, near, owed_days, sale_slug, too_early
from tests.oracle.world import Course, Dose, World


@dataclass(frozen=True)
class Breach:
    """A rule broken by a dose (for a repeat that is missing: by its first dose), perhaps against another."""

    slug: str
    dose: Dose
    against: date | None = None


@dataclass(frozen=True)
class Score:
    exposed: int
    money: int
    paid_gathers: int
    handlings: int
    gathers: int

    @property
    def stages(self) -> tuple[int, int, int, int]:
        return (self.exposed, self.money, self.paid_gathers, self.handlings)


def recorded_courses(world: World, cohort: str) -> list[Course]:
    """The record of a cohort as courses, the recorded repeat with its first."""
    doses = world.record[cohort]
    out = []
    for first in doses:
        if first.repeat_of is None:
            again = [d.day for d in doses if (d.label, d.use, d.repeat_of) == (first.label, first.use, first.day)]
            out.append(Course(cohort, first.label, first.use, first.day, min(again, default=None), "record", first.row))
    return out


def planned_courses(doses: list[Dose]) -> list[Course]:
    """Planned doses joined to courses; a repeat without a planned first is one owed by the record."""
    repeats = {(d.cohort, d.label, d.use, d.repeat_of): d for d in doses if d.repeat_of is not None}
    out = []
    for dose in doses:
        if dose.repeat_of is None:
            again = repeats.pop((dose.cohort, dose.label, dose.use, dose.day), None)
            out.append(
                Course(dose.cohort, dose.label, dose.use, dose.day, again.day if again else None, dose.origin, dose.row)
            )
    for rest in repeats.values():
        assert rest.repeat_of is not None
        out.append(Course(rest.cohort, rest.label, rest.use, rest.repeat_of, rest.day, "owed", rest.row))
    return out


class Judge:
    """One list of planned doses against one world."""

    def __init__(self, world: World, doses: list[Dose]) -> None:
        self.world = world
        self.doses = doses
        self.courses = planned_courses(doses)
        self.used: dict[Course, list[Direction]] = {course: [] for course in self.courses}
        self.breaches: list[Breach] = []

    def _broken(self, slug: str, course: Course, day: date, against: date | None = None) -> None:
        """Note a breach, unless a direction sets it aside (then remember the direction)."""
        direction = aside(self.world, course, day, slug)
        if direction is not None:
            self.used[course].append(direction)
            return
        dose = next((one for one in course.doses if one.day == day), course.doses[0])
        self.breaches.append(Breach(slug, dose, against))

    def _all_of(self, cohort: str) -> list[Dose]:
        return self.world.record[cohort] + [one for one in self.doses if one.cohort == cohort]

    def _singly(self) -> None:
        for course in self.courses:
            for dose in course.doses:
                if not self.world.opening <= dose.day <= self.world.end:
                    self.breaches.append(Breach("window", dose))
                for slug in alone(self.world, dose):
                    self._broken(slug, course, dose.day)
                self._untreatable(course, dose)
                if course.origin == "own" and dose.repeat_of is None and self._early(dose):
                    self.breaches.append(Breach("too-early", dose))

    def _early(self, dose: Dose) -> bool:
        treat = self.world.use(dose.label, dose.use).treat
        return not treat and too_early(self.world, dose, self._all_of(dose.cohort))

    def _untreatable(self, course: Course, dose: Dose) -> None:
        """A treat first dose when the planned doses of earlier days have ended what the record had not."""
        use = self.world.use(dose.label, dose.use)
        if not use.treat or dose.repeat_of is not None or "use-on-label" in alone(self.world, dose):
            return
        earlier = [one for one in self._all_of(dose.cohort) if one.day < dose.day]
        cohort = self.world.cohorts[dose.cohort]
        if not any(self.world.infested(cohort, target, dose.day, earlier) for target in use.targets):
            self._broken("use-on-label", course, dose.day)

    def _pairs(self) -> None:
        for cohort in {course.cohort for course in self.courses}:
            mine = [course for course in self.courses if course.cohort == cohort]
            record = recorded_courses(self.world, cohort)
            pairs = list(combinations(mine, 2)) + [(one, other) for one in mine for other in record]
            for one, other in pairs:
                if (one.label, one.use, one.first) == (other.label, other.use, other.first) and "owed" in (
                    one.origin,
                    other.origin,
                ):
                    continue
                self._pair(one, other)

    def _pair(self, one: Course, other: Course) -> None:
        day = near(self.world, one, other)
        if day is not None:
            late = one if day in one.days and one.origin != "record" else other
            if "own" in (one.origin, other.origin):
                self.breaches.append(
                    Breach("repeat-interval", late.doses[0], one.first if late is other else other.first)
                )
            else:
                leaning = next(
                    (c for c in (one, other) if day in c.days and aside(self.world, c, day, "repeat-interval")), late
                )
                self._broken("repeat-interval", leaning, day, one.first if leaning is other else other.first)
        if clash(self.world, one, other):
            self.breaches.append(Breach("product-clash", one.doses[-1], other.first))

    def _season(self) -> None:
        """season-maximum, counted in the order of first doses; own courses never lean on a direction."""
        for cohort in {course.cohort for course in self.courses}:
            firsts = [c for c in self.courses if c.cohort == cohort and c.origin != "owed"] + recorded_courses(
                self.world, cohort
            )
            firsts = [c for c in firsts if self.world.start <= c.first <= self.world.end]
            for active in {self.world.label(c.label).active for c in firsts}:
                mine = [c for c in firsts if self.world.label(c.label).active == active]
                self._count(
                    [c for c in mine if c.origin == "record"],
                    [c for c in mine if c.origin == "wish"],
                    [c for c in mine if c.origin == "own"],
                )

    def _count(self, record: list[Course], wishes: list[Course], own: list[Course]) -> None:
        seen = list(record)
        for wish in sorted(wishes, key=lambda c: (c.first, c.row)):
            seen.append(wish)
            if over_maximum(self.world, seen):
                self._broken("season-maximum", wish, wish.first)
        if own and over_maximum(self.world, seen + own):
            self.breaches.append(Breach("season-maximum", max(own, key=lambda c: c.first).doses[0]))

    def _sales(self) -> None:
        for course in self.courses:
            used = tuple(self.used[course])
            slug = course_sale(self.world, course, used)
            if slug is not None:
                self.breaches.append(Breach(slug, course.doses[-1]))
            if used and self.world.cohorts[course.cohort].group.milk and any(one.milk_days is None for one in used):
                self.breaches.append(Breach("milk-withdrawal", course.doses[0]))

    def _repeats(self) -> None:
        for course in self.courses:
            days = owed_days(self.world, self.world.cohorts[course.cohort], course.label, course.use, course.first)
            if course.origin != "owed" and days is not None and course.repeat is None:
                late = replace(course, repeat=days[0])
                sold = self.world.has_left(self.world.cohorts[course.cohort], days[0])
                used = tuple(self.used[course])
                gone = sold or sale_slug(self.world, late, days[0], used) is not None
                self.breaches.append(Breach("repeat-before-sale" if gone else "lamb-repeat", course.doses[0]))
            if course.origin != "owed" and course.repeat is not None and course.repeat not in (days or []):
                self.breaches.append(Breach("lamb-repeat", course.doses[-1]))

    def _heads(self) -> None:
        if not self.world.most_head:
            return
        for day in {dose.day for dose in self.doses}:
            cohorts = {dose.cohort for dose in self.doses if dose.day == day} | self.world.dosed_before(day)
            heads = sum(self.world.cohorts[name].head for name in cohorts)
            if len(cohorts) > 1 and heads > self.world.most_head:
                last = max((dose for dose in self.doses if dose.day == day), key=lambda d: d.cohort)
                self.breaches.append(Breach("daily-head", last))

    def run(self) -> list[Breach]:
        for step in (self._singly, self._pairs, self._season, self._sales, self._repeats, self._heads):
            step()
        return self.breaches


def over_maximum(world: World, courses: list[Course]) -> bool:
    """Are more courses of one active there than some label among them allows?"""
    limits = [world.label(course.label).maximum for course in courses]
    return any(limit is not None and len(courses) > limit for limit in limits)


def judge(world: World, doses: list[Dose]) -> list[Breach]:
    """Every stop rule (and too-early, for own doses) that a list of planned doses breaks."""
    return Judge(world, doses).run()


def directions_used(world: World, doses: list[Dose]) -> dict[Course, tuple[Direction, ...]]:
    """The directions that each planned course leans on."""
    verdict = Judge(world, doses)
    verdict.run()
    return {course: tuple(used) for course, used in verdict.used.items()}


def ml_a_head(world: World, dose: Dose) -> Decimal | None:
    """Ml a head of a planned dose, a repeat's own whatever the weight; None where only the vet can say how much."""
    cohort, use = world.cohorts[dose.cohort], world.use(dose.label, dose.use)
    if dose.repeat_of is not None:
        repeat = repeat_owed(world, cohort.group, use, dose.repeat_of)
        return None if repeat is None else repeat.ml
    return dose_ml(world, cohort.group, use, dose.day, world.area(cohort, use, dose.day))


def money_of(world: World, dose: Dose) -> int:
    """Minor units of one planned dose."""
    head = world.cohorts[dose.cohort].head
    return dose_money(
        world, world.label(dose.label), world.use(dose.label, dose.use), head, ml_a_head(world, dose) or Decimal(0)
    )


def exposed_sheep_days(world: World, doses: list[Dose]) -> int:
    """Head times days exposed or fading, from made_for or the season's start on."""
    total = 0
    for cohort in world.cohorts.values():
        mine = world.record[cohort.id] + [dose for dose in doses if dose.cohort == cohort.id]
        for target in world.targets:
            states = [world.day_state(cohort, target, day, mine)[1] for day in span(world.opening, world.end)]
            total += cohort.head * sum(state in ("exposed", "fading") for state in states)
    return total


def work(world: World, doses: list[Dose]) -> tuple[int, int, int, int]:
    """(money in minor units, paid gathers, handlings, all gathers)."""
    gathers = {(world.mob_of(world.cohorts[dose.cohort].group.name, dose.day), dose.day) for dose in doses}
    paid = {one for one in gathers if not world.free(*one)}
    money = sum(money_of(world, dose) for dose in doses) + sum(gather_money(world, mob) for mob, _ in paid)
    return money, len(paid), len({(dose.cohort, dose.day) for dose in doses}), len(gathers)


def score(world: World, doses: list[Dose]) -> Score:
    """The five figures of a list of planned doses."""
    return Score(exposed_sheep_days(world, doses), *work(world, doses))
