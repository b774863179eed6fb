"""A cohort with fewer courses, and answers that still hold: what is least of more is least of fewer that have it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from scheduler.planner.bitgrid import reordered
from scheduler.planner.problem import Cohort, Counter, Course, Gather, Problem


def narrowed(cohort: Cohort, kept: Sequence[int]) -> Cohort:
    """The cohort with only the courses kept, given by number, ascending."""
    place = {number: k for k, number in enumerate(kept)}
    counters = []
    for counter in cohort.counters:
        pairs = [(place[i], cap) for i, cap in zip(counter.courses, counter.caps, strict=True) if i in place]
        if pairs and min(cap for _, cap in pairs) < len(pairs):
            numbers, caps = zip(*pairs, strict=True)
            counters.append(Counter(tuple(numbers), tuple(caps)))
    return replace(
        cohort,
        courses=tuple(cohort.courses[i] for i in kept),
        apart=reordered([cohort.apart[i] for i in kept], kept, len(cohort.courses)),
        counters=tuple(counters),
        duties=tuple(tuple(place[i] for i in duty if i in place) for duty in cohort.duties),
    )


def gathers_of(cohort: Cohort) -> set[int]:
    """The gathers that its courses use."""
    return {dose.gather for course in cohort.courses for dose in course.doses}


@dataclass(frozen=True, slots=True)
class Least:
    """The proved least choice of cohorts tied by gathers: the courses of each, by its number in the problem.

    tied: whether it is also the one that ties prefer, out of all that cost as little. gathers: those it could use.
    """

    cohorts: Mapping[int, Cohort]
    gathers: Mapping[int, Gather]
    chosen: Mapping[int, tuple[int, ...]]
    tied: bool

    def within(self, problem: Problem) -> dict[int, tuple[int, ...]] | None:
        """The same choice where the cohorts have fewer courses but still those; None where anything else differs."""
        found = {}
        for number, cohort in self.cohorts.items():
            if number >= len(problem.cohorts):
                return None
            now = problem.cohorts[number]
            place = _places(cohort, now)
            if place is None or any(i not in place for i in self.chosen[number]):
                return None
            if any(self.gathers[gather] != problem.gathers[gather] for gather in gathers_of(now)):
                return None
            found[number] = tuple(place[i] for i in self.chosen[number])
        return found


def _places(cohort: Cohort, now: Cohort) -> dict[int, int] | None:
    """By number of a course its number in the narrower cohort; None where that is not the same with fewer courses."""
    if now is cohort:
        return {i: i for i in range(len(cohort.courses))}
    same = (cohort.needs, cohort.fixed_exposure, cohort.earlier, len(cohort.duties))
    if same != (now.needs, now.fixed_exposure, now.earlier, len(now.duties)):
        return None
    kept = _kept(cohort.courses, now.courses)
    if kept is None or narrowed(cohort, kept) != replace(now, head=cohort.head):
        return None
    return {number: k for k, number in enumerate(kept)}


def _kept(courses: Sequence[Course], fewer: Sequence[Course]) -> list[int] | None:
    """Numbers of the courses that are left, in order."""
    kept: list[int] = []
    left = iter(enumerate(courses))
    for course in fewer:
        number = next((i for i, known in left if known == course), None)
        if number is None:
            return None
        kept.append(number)
    return kept
