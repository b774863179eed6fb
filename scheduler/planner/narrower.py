"""A cohort with fewer courses, and answers that still hold: what is least of more is least of fewer that have it."""

from collections.abc import Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

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


class Least(Struct, frozen=True):
    """The proved least choice of cohorts tied by gathers: the courses of each, by its number in the problem.

    tied: whether it is also the one that ties prefer, out of all that cost as little. gathers: those of the problem.
    """

    cohorts: Mapping[int, Cohort]
    gathers: Sequence[Gather]
    chosen: Mapping[int, tuple[int, ...]]
    tied: bool

    def within(self, problem: Problem) -> dict[int, tuple[int, ...]] | None:
        """The same choice where the cohorts have fewer courses but still those; None where anything else differs."""
        found = {}
        for number, cohort in self.cohorts.items():
            now = problem.cohorts[number] if number < len(problem.cohorts) else None
            chosen = None if now is None else _still(cohort, self.chosen[number], now)
            if now is None or chosen is None or not self._costs_as_much(now, problem):
                return None
            found[number] = chosen
        return found

    def _costs_as_much(self, now: Cohort, problem: Problem) -> bool:
        """Whether the gathers that the cohort can use are as they were."""
        if problem.gathers is self.gathers:
            return True
        used = {dose.gather for course in now.courses for dose in course.doses}
        return all(self.gathers[gather] == problem.gathers[gather] for gather in used)


def _still(cohort: Cohort, chosen: tuple[int, ...], now: Cohort) -> tuple[int, ...] | None:
    """The courses chosen by their numbers in the cohort as it is now; None where it is not the same with fewer."""
    if now == cohort:
        return chosen
    if len(now.courses) >= len(cohort.courses) or _unchoosable(now) != _unchoosable(cohort):
        return None
    kept = _kept(cohort.courses, now.courses)
    if kept is None or narrowed(cohort, kept) != replace(now, head=cohort.head):
        return None
    place = {number: k for k, number in enumerate(kept)}
    return tuple(place[i] for i in chosen) if place.keys() >= set(chosen) else None


def _unchoosable(cohort: Cohort) -> tuple[object, ...]:
    """What does not hang on which courses there are."""
    return (cohort.needs, cohort.fixed_exposure, cohort.earlier, len(cohort.duties))


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
