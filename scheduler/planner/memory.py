"""What was solved before, by content: planning again after a change takes up all that the change does not touch."""

from collections.abc import Hashable, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from scheduler.planner.exposure import Exposure
from scheduler.planner.layout import Layout
from scheduler.planner.narrower import Least
from scheduler.planner.problem import Cohort, Problem
from scheduler.planner.settling import Begun, Settled

Content = tuple[Hashable, ...]


class Memory(Struct):
    """Cohorts alone, cohorts tied by gathers, and these with their ties decided; least: what is proved least.

    Only what no clock has cut short is kept: the answer is that of a run without memory.
    """

    cohorts: dict[Content, tuple[Layout, Exposure] | None] = field(default_factory=dict)
    groups: dict[Content, Begun] = field(default_factory=dict)
    decided: dict[Content, Settled] = field(default_factory=dict)
    least: list[Least] = field(default_factory=list)

    def held(self, problem: Problem, ties: bool) -> dict[int, tuple[int, ...]]:
        """By number of a cohort, the courses of its least choice, where one known holds for the problem.

        ties: whether it must be the one that ties prefer.
        """
        held: dict[int, tuple[int, ...]] = {}
        for known in self.least:
            if (known.tied or not ties) and not held.keys() & known.cohorts.keys():
                held |= known.within(problem) or {}
        return held

    def near(self, layouts: Sequence[Layout]) -> Begun | None:
        """The cohorts tied by gathers that have the most of these in common, the first of several; None without any."""
        wanted = {id(layout.meets) for layout in layouts}
        shared = {k: sum(id(one.meets) in wanted for one in known.layouts) for k, known in self.groups.items()}
        best = max(shared, key=lambda k: shared[k], default=None)
        return None if best is None or not shared[best] else self.groups[best]


def content_of(cohort: Cohort, days: tuple[int, ...]) -> Content:
    """All of a cohort that its least plans rest on, with the days barred to it; what only ties look at is left out."""
    courses = tuple(
        (course.cost, tuple((dose.day, dose.gather) for dose in course.doses), course.clauses)
        for course in cohort.courses
    )
    rest = (cohort.needs, cohort.apart, cohort.counters, cohort.duties, cohort.fixed_exposure)
    return (courses, rest, days)


def content_of_group(problem: Problem, contents: Sequence[Content], layouts: Sequence[Layout]) -> Content:
    """All that the least plans of cohorts tied by gathers rest on."""
    gathers = sorted({item.gather for layout in layouts for item in layout.items if item.gather is not None})
    return (tuple(contents), tuple((gather, problem.gathers[gather]) for gather in gathers))


def content_of_ties(cohorts: Sequence[Cohort]) -> Content:
    """What decides between plans of equal cost: ranks, series and earlier days."""
    return tuple(
        (cohort.earlier, tuple((dose.rank, dose.series) for course in cohort.courses for dose in course.doses))
        for cohort in cohorts
    )


def taken_up(layout: Layout, number: int, cohort: Cohort) -> Layout:
    """The layout for a cohort of equal content, with its number, ranks and earlier days."""
    courses = tuple(cohort.courses[i] for i in layout.instance.origin)
    return replace(layout, instance=replace(layout.instance, number=number, cohort=cohort, courses=courses))
