"""Cohorts written as columns and rows of one programme."""

from collections.abc import Iterable, Sequence
from functools import lru_cache

from msgspec import Struct

from scheduler.planner.instance import Instance, bits
from scheduler.planner.layout import Layout
from scheduler.planner.problem import Problem
from scheduler.planner.relax import Programme


class Block(Struct):
    """Where a cohort stands in a programme.

    courses, unmet, items: columns of courses, of needs unmet and of items. rows: row of each row of the layout.
    limits: (mask of courses, most, row). shares: by item, (mask of courses, row). ties: by item, row to its gather.
    covers: row of each row of the layout that asks for one of its gathers.
    """

    layout: Layout
    courses: list[int]
    unmet: list[int]
    rows: list[int]
    limits: list[tuple[int, int, int]]
    items: list[int]
    shares: list[list[tuple[int, int]]]
    ties: list[int | None]
    covers: list[int]

    @property
    def number(self) -> int:
        """Number of the cohort."""
        return self.layout.instance.number

    def picked(self, values: Sequence[float]) -> tuple[int, ...]:
        """Numbers in the cohort of the courses taken at a whole point."""
        mask = sum(1 << i for i, column in enumerate(self.courses) if values[column] > 0.5)
        return self.layout.instance.picked(mask)

    def money(self) -> list[tuple[int, float]]:
        """Entries of the costs of courses."""
        pairs = zip(self.courses, self.layout.instance.courses, strict=True)
        return [(column, float(course.cost)) for column, course in pairs if course.cost]

    def exposure(self) -> list[tuple[int, float]]:
        """Entries of the exposure that can be avoided."""
        pairs = zip(self.unmet, self.layout.instance.needs, strict=True)
        return [(column, float(weight)) for column, (weight, _) in pairs]

    def handlings(self) -> list[tuple[int, float]]:
        """Entries of handled days."""
        return [(z, 1.0) for z, item in zip(self.items, self.layout.items, strict=True) if item.handled]


def add_cohort(programme: Programme, layout: Layout, relaxed: bool = False) -> Block:
    """Adds the courses of a cohort with its needs, duties, conflicts and counters; costs are left at 0.

    relaxed: counters are written as plain limits only, which are weaker where caps differ.
    """
    instance = layout.instance
    columns = [programme.column(high=1, whole=True) for _ in instance.courses]
    unmet = [programme.column() for _ in instance.needs]
    first = columns[0] if columns else 0
    duties = [row.courses for row in layout.rows if row.need < 0]
    needs = [row for row in layout.rows if row.need >= 0]
    rows = [*programme.sums(duties, first, low=1, high=1)]
    rows += programme.sums([row.courses for row in needs], first, low=1, also=[unmet[row.need] for row in needs])
    limits = [(mask, 1) for mask in cliques(instance.apart)]
    for counter in instance.counters:
        limits += _limits(counter)
        if not relaxed:
            _add_counter(programme, columns, counter)
    numbers = programme.sums([mask for mask, _ in limits], first, high=[float(most) for _, most in limits])
    written = [(mask, most, number) for (mask, most), number in zip(limits, numbers, strict=True)]
    return Block(layout, columns, unmet, rows, written, [], [], [], [])


def _limits(counter: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """Of the courses of at most some cap, at most so many."""
    pairs = list(counter)
    found = []
    for cap in sorted({cap for _, cap in pairs}):
        under = [i for i, own in pairs if own <= cap]
        if cap < len(under):
            found.append((sum(1 << i for i in under), cap))
    return found


def _add_counter(programme: Programme, columns: Sequence[int], counter: Iterable[tuple[int, int]]) -> None:
    """At most as many as the least cap among those taken: one more column turns each lower cap on."""
    pairs = list(counter)
    room = min(max(cap for _, cap in pairs), len(pairs))
    entries = [(columns[i], 1.0) for i, _ in pairs]
    for cap in sorted({cap for _, cap in pairs if cap < room}):
        tight = programme.column(high=1)
        for i, own in pairs:
            if own == cap:
                programme.row([(columns[i], 1.0), (tight, -1.0)], high=0)
        programme.row([*entries, (tight, float(room - cap))], high=room)


def add_items(programme: Programme, block: Block, gathers: dict[int, int]) -> None:
    """Adds the items of a cohort, each 1 where a course uses it, and ties them to the columns of gathers.

    That a row needs one of its gathers follows for whole numbers only: without it, parts of several courses on one day
    would share a part of its gather.
    """
    layout, items = block.layout, block.layout.items
    block.items += [programme.column() for _ in items]
    parts = [(k, mask) for k, item in enumerate(items) for mask in disjoint(item.courses, layout.instance.apart)]
    numbers = programme.sums(
        [mask for _, mask in parts],
        block.courses[0] if block.courses else 0,
        high=0,
        also=[block.items[k] for k, _ in parts],
        factor=-1.0,
    )
    block.shares += [[] for _ in items]
    for (k, mask), number in zip(parts, numbers, strict=True):
        block.shares[k].append((mask, number))
    for column, item in zip(block.items, items, strict=True):
        if item.gather is None:
            block.ties.append(None)
            continue
        if item.gather not in gathers:
            gathers[item.gather] = programme.column()
        block.ties.append(programme.row([(column, 1.0), (gathers[item.gather], -1.0)], high=0))
    duties = [mask for row, mask in zip(layout.rows, layout.covers, strict=True) if row.need < 0]
    needs = [(row, mask) for row, mask in zip(layout.rows, layout.covers, strict=True) if row.need >= 0]
    first = block.items[0] if items else 0
    block.covers += programme.sums(duties, first, low=1)
    block.covers += programme.sums(
        [mask for _, mask in needs], first, low=1, also=[block.unmet[row.need] for row, _ in needs]
    )


@lru_cache(maxsize=4096)
def disjoint(sources: int, apart: tuple[int, ...]) -> tuple[int, ...]:
    """Splits courses into few sets of which at most one course can be taken; kept, as cohorts are written often."""
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
    return tuple(sets)


@lru_cache(maxsize=128)
def cliques(apart: tuple[int, ...]) -> tuple[int, ...]:
    """Sets of courses, pairwise apart, that hold every pair that is apart; grown in the order of the courses.

    They are kept, as a cohort is written into several programmes.
    """
    open_pairs = list(apart)
    found: list[int] = []
    for i in range(len(apart)):
        while open_pairs[i]:
            clique, common = 1 << i, apart[i]
            for wanted in (open_pairs[i], -1):
                left = common & wanted
                while left:
                    low = left & -left
                    clique |= low
                    common &= apart[low.bit_length() - 1]
                    left &= common
            found.append(clique)
            for j in bits(clique):
                open_pairs[j] &= ~clique
    return tuple(found)


def components(problem: Problem, instances: Sequence[Instance]) -> list[list[Instance]]:
    """Cohorts tied by gathers that cost money or are counted; the order of cohorts is kept."""
    groups: list[tuple[set[int], list[Instance]]] = []
    for instance in instances:
        used = {dose.gather for course in instance.courses for dose in course.doses}
        ties = {g for g in used if problem.gathers[g].paid or problem.gathers[g].cost}
        together = [instance]
        rest = []
        for known, tied in groups:
            if known & ties:
                ties |= known
                together += tied
            else:
                rest.append((known, tied))
        groups = [*rest, (ties, sorted(together, key=lambda member: member.number))]
    return sorted((members for _, members in groups), key=lambda members: members[0].number)
