"""A plan made again with one of its doses left out or kept off its day, and what that changes."""

from collections.abc import Iterable, Sequence
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from scheduler import planner
from scheduler.plan.numbers import new_doses
from scheduler.plan.placed import Place, PlacedPlan
from scheduler.plan.settle import Clock, answer
from scheduler.plan.uids import carry_over
from scheduler.plan.whys import Change, NextBest
from scheduler.season import Dose
from scheduler.words import Target

STATES = 8_000
"""States of a search of one cohort's exposure before the programme takes over: with a dose fewer it is often long."""

_Again = tuple[Change, tuple[Dose, ...]]


class Instead(Struct, frozen=True, dict=True):
    """Plans again with one dose of the plan changed; what the change does not touch is taken up from `memory`."""

    plan: PlacedPlan
    memory: planner.Memory
    ties: bool = True

    def buys(self, place: Place, out_of_time: Clock) -> Change | None:
        """What changes where the dose is left out with no other in its stead, and the rest is planned again.

        The cohort then gets one course fewer of those for the same purpose and targets, and no more of any other
        against these targets; all days may move. None where it may not be left out (an owed repeat), or where time
        ran out.
        """
        if place.is_owed:
            return None
        cohort, courses = self.plan.cohort(place), place.lot.courses
        first = courses[place.course].doses[0].key
        struck = [number for number, course in enumerate(courses) if course.doses[0].key == first]
        limits = [_at_most(alike, most) for alike, most in self._alike(place).values()]
        limits.append(_at_most(struck, 0))
        changed = replace(cohort, counters=(*cohort.counters, *limits), duties=_without(cohort, place))
        found = self._again(place, changed, out_of_time)
        return None if found is None else found[0]

    def next_best(self, place: Place, out_of_time: Clock) -> NextBest | None:
        """The best plan in which the cohort gets nothing against the dose's targets on its day.

        None where an owed repeat has no other day, or where time ran out.
        """
        dose, cohort, duties = place.dose, self.plan.cohort(place), self.plan.cohort(place).duties
        targets = self.plan.targets(dose)
        struck = [
            number
            for number, course in enumerate(place.lot.courses)
            if any(other.day == dose.day and targets & self.plan.targets(other) for other in new_doses(course))
        ]
        if place.duty is not None and set(place.duty) <= set(struck):
            if place.is_owed:
                return None
            duties = _without(cohort, place)
        changed = replace(cohort, counters=(*cohort.counters, _at_most(struck, 0)), duties=duties)
        found = self._again(place, changed, out_of_time)
        return None if found is None else NextBest(self._day_after(dose, targets, found[1]), found[0])

    def _alike(self, place: Place) -> dict[object, tuple[list[int], int]]:
        """By purpose and targets, free courses against a target of the dose, with how many the plan has beside it."""
        targets, chosen = self.plan.targets(place.dose), set(self.plan.chosen[place.number]) - {place.course}
        found: dict[object, list[int]] = {}
        for number in place.free:
            last = place.lot.courses[number].last
            if targets & self.plan.targets(last):
                found.setdefault((last.use.purpose, self.plan.targets(last)), []).append(number)
        return {kind: (numbers, len(chosen & set(numbers))) for kind, numbers in found.items()}

    def _again(self, place: Place, changed: planner.Cohort, out_of_time: Clock) -> _Again | None:
        """The plan with one cohort changed, its other days moved as little as may be; None: no proof in time."""
        question = self.plan.question
        pairs = zip(question.problem.cohorts, self.plan.chosen, strict=True)
        cohorts = [_with_days(cohort, chosen) for cohort, chosen in pairs]
        cohorts[place.number] = replace(changed, earlier=cohorts[place.number].earlier)
        problem = replace(question.problem, cohorts=tuple(cohorts))
        if not question.season.farm.findings:
            return self._solved(place, planner.solve(problem, out_of_time, None, self.ties, self.memory, STATES))
        if place.duty is not None and isinstance(planner.solve(problem, _at_once), planner.Impossible):
            return None
        # Several findings at once can ask for more than one round, until the judge agrees.
        found = answer(replace(question, problem=problem), out_of_time, ties=self.ties, memory=self.memory)
        sums = found.sums
        change = self._change(sums.exposed_sheep_days, sums.money_minor, sums.handlings)
        return None if found.gap is not None else (change, found.doses.of(place.lot.cohort))

    def _solved(self, place: Place, solved: planner.Solved | planner.Impossible) -> _Again | None:
        if isinstance(solved, planner.Impossible) or solved.gap is not None:
            return None
        courses = [place.lot.courses[number] for number in solved.chosen[place.number]]
        change = self._change(solved.cost.exposure, solved.cost.money, solved.cost.handlings)
        return change, tuple(dose for course in courses for dose in new_doses(course))

    def _change(self, exposed: int, money: int, handlings: int) -> Change:
        old = self.plan.settled.sums
        return Change(exposed - old.exposed_sheep_days, money - old.money_minor, handlings - old.handlings)

    def _day_after(self, dose: Dose, targets: frozenset[Target], again: Iterable[Dose]) -> date | None:
        """The day that the dose's part is moved to: days of both plans paired in order with the least movement."""
        old, new = (
            sorted(other.day for other in doses if other.is_ours and targets & self.plan.targets(other))
            for doses in (self.plan.settled.doses.of(dose.cohort), again)
        )
        place = carry_over(old, new)[old.index(dose.day)]
        return None if place is None else new[place]


def _at_once() -> bool:
    return True


def _at_most(courses: Iterable[int], most: int) -> planner.Counter:
    listed = tuple(courses)
    return planner.Counter(listed, tuple(most for _ in listed))


def _without(cohort: planner.Cohort, place: Place) -> tuple[tuple[int, ...], ...]:
    """The duties but that of the place; its courses are struck besides."""
    return tuple(duty for duty in cohort.duties if duty != place.duty)


def _with_days(cohort: planner.Cohort, chosen: Sequence[int]) -> planner.Cohort:
    """The cohort with the days of its plan as the earlier ones."""
    days: dict[int, list[int]] = {}
    for number in chosen:
        for dose in cohort.courses[number].doses:
            days.setdefault(dose.series, []).append(dose.day)
    return replace(cohort, earlier=tuple(tuple(sorted(days.get(series, ()))) for series in range(len(cohort.earlier))))
