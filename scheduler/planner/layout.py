"""A cohort laid out for the search: courses in order of first day, with what opens and what closes at each."""

from collections import defaultdict
from dataclasses import dataclass

from scheduler.planner.instance import Instance, bits


@dataclass(frozen=True, slots=True)
class Row:
    """A clause to be met: bit of it, its need (-1 for a duty), the courses that meet it."""

    need: int
    courses: int


@dataclass(frozen=True, slots=True)
class Item:
    """What is paid once however many courses use it: a gather, a handled day, or both where they go together."""

    gather: int | None
    handled: bool
    courses: int


@dataclass(frozen=True, slots=True)
class Layout:
    """Masks for the search; all but `kinds` by course, in the order of the instance.

    meets: rows that a course meets. closes: rows whose last course it is. uses: items. ends: True where the next
    course has a later first day. rows_after, items_after: masks of rows and items that later courses still have.
    slots: rows of each need. counted: (counter, cap) of a course. last_counted: last course of each counter.
    covers: by row, the items of gathers of which one must be used to meet it. covered: by item, such rows.
    """

    instance: Instance
    rows: tuple[Row, ...]
    items: tuple[Item, ...]
    meets: tuple[int, ...]
    closes: tuple[int, ...]
    uses: tuple[int, ...]
    ends: tuple[bool, ...]
    rows_after: tuple[int, ...]
    items_after: tuple[int, ...]
    slots: tuple[int, ...]
    covers: tuple[int, ...]
    covered: tuple[int, ...]
    counted: tuple[tuple[tuple[int, int], ...], ...]
    last_counted: tuple[int, ...]
    owed: int
    kinds: tuple[int, ...]
    kind_of: tuple[int, ...]


def layout_of(instance: Instance) -> Layout:
    """The layout of a reduced cohort."""
    count = len(instance.courses)
    rows = [Row(-1, duty) for duty in instance.duties]
    rows += [Row(need, clause) for need, (_, clauses) in enumerate(instance.needs) for clause in clauses]
    items = _items(instance)
    row_masks = [row.courses for row in rows]
    item_masks = [item.courses for item in items]
    meets = _turned(row_masks, count)
    uses = _turned(item_masks, count)
    slots = [0] * len(instance.needs)
    for r, row in enumerate(rows):
        if row.need >= 0:
            slots[row.need] |= 1 << r
    counted: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    for c, counter in enumerate(instance.counters):
        for i, cap in counter:
            counted[i].append((c, cap))
    days = [min(dose.day for dose in course.doses) for course in instance.courses]
    kinds, kind_of = _kinds(instance)
    covers = _covers(instance, items, row_masks)
    owed = 0
    for duty in instance.duties:
        owed |= duty
    return Layout(
        instance=instance,
        rows=tuple(rows),
        items=tuple(items),
        meets=meets,
        closes=_closing(row_masks, count),
        uses=uses,
        ends=tuple(i + 1 == count or days[i + 1] != days[i] for i in range(count)),
        rows_after=_after(meets),
        items_after=_after(uses),
        slots=tuple(slots),
        covers=covers,
        covered=_turned(list(covers), len(items)),
        counted=tuple(tuple(own) for own in counted),
        last_counted=tuple(max(i for i, _ in counter) for counter in instance.counters),
        owed=owed,
        kinds=kinds,
        kind_of=kind_of,
    )


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
    covers = []
    for row in rows:
        mask = 0
        for i in bits(row):
            mask |= first[i]
        covers.append(mask)
    return tuple(covers)


def _turned(masks: list[int], count: int) -> tuple[int, ...]:
    """Masks over courses as masks of each course."""
    turned = [0] * count
    for k, mask in enumerate(masks):
        for i in bits(mask):
            turned[i] |= 1 << k
    return tuple(turned)


def _closing(masks: list[int], count: int) -> tuple[int, ...]:
    closes = [0] * count
    for k, mask in enumerate(masks):
        closes[mask.bit_length() - 1] |= 1 << k
    return tuple(closes)


def _after(masks: tuple[int, ...]) -> tuple[int, ...]:
    """At each course, the union of the masks of the later ones."""
    after = [0] * len(masks)
    union = 0
    for i in range(len(masks) - 1, -1, -1):
        after[i] = union
        union |= masks[i]
    return tuple(after)


def _kinds(instance: Instance) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Courses by the series of their first dose: masks, and the kind of each course."""
    masks: dict[int, int] = defaultdict(int)
    series = [min(course.doses, key=lambda dose: dose.day).series for course in instance.courses]
    for i, own in enumerate(series):
        masks[own] |= 1 << i
    names = sorted(masks)
    return tuple(masks[name] for name in names), tuple(names.index(own) for own in series)
