"""Cohorts written as columns and rows of one programme."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from scheduler.planner.instance import Instance, bits
from scheduler.planner.problem import Problem
from scheduler.planner.relax import Programme


@dataclass(slots=True)
class Block:
    """Where a cohort stands in a programme: columns of courses, of unmet needs (with weight), of handled days."""

    instance: Instance
    courses: list[int]
    unmet: list[tuple[int, int]]
    days: dict[int, int] = field(default_factory=dict)
    gathers: dict[int, set[int]] = field(default_factory=dict)

    def picked(self, values: Sequence[float]) -> tuple[int, ...]:
        """Numbers in the cohort of the courses taken at a whole point."""
        mask = sum(1 << i for i, column in enumerate(self.courses) if values[column] > 0.5)
        return self.instance.picked(mask)

    def money(self) -> list[tuple[int, float]]:
        """Entries of the costs of courses."""
        pairs = zip(self.courses, self.instance.courses, strict=True)
        return [(column, float(course.cost)) for column, course in pairs if course.cost]

    def exposure(self) -> list[tuple[int, float]]:
        """Entries of the exposure that can be avoided."""
        return [(column, float(weight)) for column, weight in self.unmet]


def add_cohort(programme: Programme, instance: Instance) -> Block:
    """Adds the courses of a cohort with its needs, duties, counters and conflicts; costs are left at 0."""
    columns = [programme.column(high=1, whole=True) for _ in instance.courses]
    unmet = []
    for weight, clauses in instance.needs:
        column = programme.column(high=1)
        unmet.append((column, weight))
        for clause in clauses:
            programme.row([(columns[i], 1.0) for i in bits(clause)] + [(column, 1.0)], low=1)
    for duty in instance.duties:
        programme.row([(columns[i], 1.0) for i in bits(duty)], low=1, high=1)
    for clique in cliques(instance.apart):
        programme.row([(columns[i], 1.0) for i in bits(clique)], high=1)
    for counter in instance.counters:
        _add_counter(programme, columns, counter)
    return Block(instance, columns, unmet)


def _add_counter(programme: Programme, columns: Sequence[int], counter: Iterable[tuple[int, int]]) -> None:
    """At most as many as the least cap among those taken: a helper column turns each lower cap on."""
    pairs = list(counter)
    room = max(cap for _, cap in pairs)
    room = min(room, len(pairs))
    entries = [(columns[i], 1.0) for i, _ in pairs]
    programme.row(entries, high=room)
    for cap in sorted({cap for _, cap in pairs if cap < room}):
        tight = programme.column(high=1)
        for i, own in pairs:
            if own == cap:
                programme.row([(columns[i], 1.0), (tight, -1.0)], high=0)
        programme.row([*entries, (tight, float(room - cap))], high=room)


def add_days(programme: Programme, block: Block) -> None:
    """Adds the handled days of a cohort: 1 where a course of it doses on that day."""
    for day, sources in sorted(_courses_of_days(block.instance).items()):
        column = programme.column()
        block.days[day] = column
        for cover in disjoint(sources, block.instance.apart):
            programme.row([(block.courses[i], 1.0) for i in bits(cover)] + [(column, -1.0)], high=0)


def add_gathers(programme: Programme, blocks: Sequence[Block]) -> dict[int, int]:
    """Adds one column for each gather used by some cohort: 1 where a course of any doses in it."""
    columns: dict[int, int] = {}
    for block in blocks:
        for gather, sources in sorted(_courses_of_gathers(block.instance).items()):
            if gather not in columns:
                columns[gather] = programme.column()
            for cover in disjoint(sources, block.instance.apart):
                entries = [(block.courses[i], 1.0) for i in bits(cover)]
                programme.row([*entries, (columns[gather], -1.0)], high=0)
    return columns


def _courses_of_days(instance: Instance) -> dict[int, int]:
    found: dict[int, int] = defaultdict(int)
    for i, course in enumerate(instance.courses):
        for dose in course.doses:
            found[dose.day] |= 1 << i
    return found


def _courses_of_gathers(instance: Instance) -> dict[int, int]:
    found: dict[int, int] = defaultdict(int)
    for i, course in enumerate(instance.courses):
        for dose in course.doses:
            found[dose.gather] |= 1 << i
    return found


def disjoint(sources: int, apart: Sequence[int]) -> list[int]:
    """Splits courses into few sets of which at most one course can be taken."""
    sets: list[int] = []
    while sources:
        low = sources & -sources
        clique, common = low, apart[low.bit_length() - 1] & sources
        while common:
            low = common & -common
            clique |= low
            common &= apart[low.bit_length() - 1]
        sets.append(clique)
        sources &= ~clique
    return sets


def cliques(apart: Sequence[int]) -> list[int]:
    """Sets of courses, pairwise apart, that hold every pair that is apart; grown in the order of the courses."""
    open_pairs = list(apart)
    found: list[int] = []
    for i in range(len(apart)):
        while open_pairs[i]:
            clique, common = 1 << i, apart[i]
            for wanted in (open_pairs[i], -1):
                while common & wanted:
                    low = common & wanted & -(common & wanted)
                    clique |= low
                    common &= apart[low.bit_length() - 1]
            found.append(clique)
            for j in bits(clique):
                open_pairs[j] &= ~clique
    return found


def components(problem: Problem, instances: Sequence[Instance]) -> list[list[Instance]]:
    """Cohorts tied by gathers that cost money or are counted; the order of cohorts is kept."""
    groups: list[tuple[set[int], list[Instance]]] = []
    for instance in instances:
        used = {dose.gather for course in instance.courses for dose in course.doses}
        ties = {g for g in used if problem.gathers[g].paid or problem.gathers[g].cost}
        together = [instance]
        rest = []
        for known, members in groups:
            if known & ties:
                ties |= known
                together += members
            else:
                rest.append((known, members))
        groups = [*rest, (ties, sorted(together, key=lambda member: member.number))]
    return sorted((members for _, members in groups), key=lambda members: members[0].number)
