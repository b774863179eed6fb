"""A cohort laid out for the search: courses in order of first day, with what opens and what closes at each."""

from collections import defaultdict
from collections.abc import Sequence

from msgspec import Struct

from scheduler.planner.bitgrid import joined, turned
from scheduler.planner.instance import Instance


class Row(Struct, frozen=True):
    """A clause to be met: bit of it, its need (-1 for a duty), the courses that meet it."""

    need: int
    courses: int


class Item(Struct, frozen=True):
    """What is paid once however many courses use it: a gather, a handled day, or both where they go together."""

    gather: int | None
    handled: bool
    courses: int


class Day(Struct, frozen=True):
    """A day on which courses begin: they, the rows that they meet, and the rows whose last course is one of them.

    after: mask of what later days still look at. forgets: counters whose last course is one of the day's.
    """

    courses: int
    meets: int
    closes: int
    after: int
    forgets: frozenset[int]


class Layout(Struct, frozen=True):
    """Masks for the search, which keeps courses, rows and items in one mask: courses first, then rows, then items.

    meets, uses: by course, the rows it meets and the items it uses, as they stand in that one mask. All other masks
    count their own things from 0. day_of: by course, number of its day.
    slots: rows of each need. counted: (counter, cap) of a course. last_counted: last course of each counter.
    covers: by row, the items of gathers of which one must be used to meet it. covered: by item, such rows.
    """

    instance: Instance
    rows: tuple[Row, ...]
    items: tuple[Item, ...]
    days: tuple[Day, ...]
    day_of: tuple[int, ...]
    meets: tuple[int, ...]
    uses: tuple[int, ...]
    slots: tuple[int, ...]
    covers: tuple[int, ...]
    covered: tuple[int, ...]
    counted: tuple[tuple[tuple[int, int], ...], ...]
    last_counted: tuple[int, ...]
    owed: int

    @property
    def first_row(self) -> int:
        """Place of the rows in the one mask."""
        return len(self.meets)

    @property
    def first_item(self) -> int:
        """Place of the items in the one mask."""
        return len(self.meets) + len(self.rows)


def layout_of(instance: Instance) -> Layout:
    """The layout of a reduced cohort."""
    count = len(instance.courses)
    rows = [Row(-1, duty) for duty in instance.duties]
    rows += [Row(need, clause) for need, (_, clauses) in enumerate(instance.needs) for clause in clauses]
    items = _items(instance)
    row_masks = [row.courses for row in rows]
    slots = [0] * len(instance.needs)
    for r, row in enumerate(rows):
        if row.need >= 0:
            slots[row.need] |= 1 << r
    counted: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    for c, counter in enumerate(instance.counters):
        for i, cap in counter:
            counted[i].append((c, cap))
    meets = [met << count for met in turned(row_masks, count)]
    uses = [used << count + len(rows) for used in turned([item.courses for item in items], count)]
    last_counted = [max(i for i, _ in counter) for counter in instance.counters]
    day_of = _day_of(instance)
    owed = 0
    for duty in instance.duties:
        owed |= duty
    covers = _covers(instance, items, row_masks)
    return Layout(
        instance=instance,
        rows=tuple(rows),
        items=tuple(items),
        days=_days(day_of, row_masks, meets, uses, last_counted),
        day_of=day_of,
        meets=tuple(meets),
        uses=tuple(uses),
        slots=tuple(slots),
        covers=covers,
        covered=turned(covers, len(items)),
        counted=tuple(tuple(own) for own in counted),
        last_counted=tuple(last_counted),
        owed=owed,
    )


def _day_of(instance: Instance) -> tuple[int, ...]:
    """By course, the number of its first day among the days on which courses begin."""
    days = [min(dose.day for dose in course.doses) for course in instance.courses]
    number = {day: k for k, day in enumerate(sorted(set(days)))}
    return tuple(number[day] for day in days)


def _days(
    day_of: Sequence[int], rows: Sequence[int], meets: Sequence[int], uses: Sequence[int], last_counted: Sequence[int]
) -> tuple[Day, ...]:
    number = max(day_of, default=-1) + 1
    courses, met, used, closes = [0] * number, [0] * number, [0] * number, [0] * number
    for i, day in enumerate(day_of):
        courses[day] |= 1 << i
        met[day] |= meets[i]
        used[day] |= uses[i]
    for r, mask in enumerate(rows):
        closes[day_of[mask.bit_length() - 1]] |= 1 << len(day_of) + r
    days: list[Day] = []
    after = 0
    for day in reversed(range(number)):
        forgets = frozenset(c for c, i in enumerate(last_counted) if day_of[i] == day)
        days.append(Day(courses[day], met[day], closes[day], after, forgets))
        after |= courses[day] | met[day] | used[day]
    return tuple(reversed(days))


def _items(instance: Instance) -> list[Item]:
    """One item for each gather and its day where they go together, else one for each."""
    by_gather: dict[int, int] = defaultdict(int)
    by_day: dict[int, int] = defaultdict(int)
    pairs = set()
    for i, course in enumerate(instance.courses):
        for dose in course.doses:
            by_gather[dose.gather] |= 1 << i
            by_day[dose.day] |= 1 << i
            pairs.add((dose.gather, dose.day))
    if len(pairs) == len(by_gather) == len(by_day):
        return [Item(gather, True, mask) for gather, mask in sorted(by_gather.items())]
    gathers = [Item(gather, False, mask) for gather, mask in sorted(by_gather.items())]
    return gathers + [Item(None, True, mask) for _, mask in sorted(by_day.items())]


def _covers(instance: Instance, items: list[Item], rows: list[int]) -> tuple[int, ...]:
    """By row, the gathers of the first doses that meet it, as masks of items."""
    number = {item.gather: 1 << k for k, item in enumerate(items) if item.gather is not None}
    first = [number[min(course.doses, key=lambda dose: dose.day).gather] for course in instance.courses]
    return joined(rows, first, len(items))
