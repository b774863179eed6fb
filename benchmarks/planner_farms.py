"""Random farms for the planner, of the kind a keeper could have: every number is drawn from a seed, none is real."""

from collections.abc import Callable
from dataclasses import dataclass
from random import Random

from scheduler.planner import Cohort, Counter, Course, Dose, Gather, Need, Problem


@dataclass(frozen=True)
class Label:
    """An invented label: targets of its one or two uses, days of cover, interval, withdrawal, price per head in minor units."""

    uses: tuple[frozenset[int], ...]
    cover: int
    interval: int
    most: int | None
    withdrawal: int
    price: int
    active: int
    clash: int
    repeat_after: int | None


@dataclass(frozen=True)
class Size:
    """How large a farm is."""

    groups: int = 10
    labels: int = 3
    days: int = 270
    mobs: int = 4
    targets: int = 2
    clash: int = 0
    head: tuple[int, int] = (10, 200)
    gather: int = 1500
    found_day: int = 20


def farm(seed: int, size: Size) -> Problem:
    """A farm of that size, the same for the same seed."""
    draw = Random(seed)
    labels = [_label(draw, size) for _ in range(size.labels)]
    free = {(mob, day) for mob in range(size.mobs) for day in draw.sample(range(size.days), 3)}
    gathers: dict[tuple[int, int], int] = {}

    def gather(mob: int, day: int) -> int:
        return gathers.setdefault((mob, day), len(gathers))

    risk = [_risk(draw, size.days) for _ in range(size.targets)]
    cohorts = []
    for group in range(size.groups):
        mob = draw.randrange(size.mobs)
        head = draw.randint(*size.head)
        leaving = sorted(draw.sample(range(size.days // 2, size.days), draw.choice((0, 0, 1, 2)))) + [None]
        for leaves in leaving:
            part = max(1, head // len(leaving))
            cohorts.append(_cohort(len(cohorts), part, mob, leaves, labels, risk, size, gather, draw))
    costs = [
        Gather(0 if key in free else size.gather, key not in free) for key in sorted(gathers, key=gathers.__getitem__)
    ]
    return Problem(tuple(cohorts), tuple(costs))


def _label(draw: Random, size: Size) -> Label:
    targets = list(range(size.targets))
    draw.shuffle(targets)
    several = size.targets > 1 and draw.random() < 0.4
    uses = (frozenset(targets[:2]),) if several else (frozenset(targets[:1]),)
    if not several and size.targets > 1 and draw.random() < 0.4:
        uses = (*uses, frozenset(targets[1:2]))
    cover = draw.choice((28, 35, 42, 56, 70, 112))
    return Label(
        uses=uses,
        cover=cover,
        interval=draw.choice((0, cover - 14, cover, cover + 14)),
        most=draw.choice((None, None, 1, 2, 3)),
        withdrawal=draw.choice((3, 8, 14, 21, 28, 40)),
        price=draw.randint(15, 110),
        active=draw.randrange(max(2, size.labels - 1)),
        clash=size.clash,
        repeat_after=21 if draw.random() < 0.1 else None,
    )


def _risk(draw: Random, days: int) -> range:
    start = draw.randint(20, days // 3)
    return range(start, min(days, start + draw.randint(70, 150)))


def _cohort(
    number: int,
    head: int,
    mob: int,
    leaves: int | None,
    labels: list[Label],
    risk: list[range],
    size: Size,
    gather: Callable[[int, int], int],
    draw: Random,
) -> Cohort:
    end = leaves if leaves is not None else size.days
    housed = draw.randint(0, 25)
    needed = [[day for day in run if housed <= day < end] for run in risk]
    clause = {(t, day): k for k, (t, day) in enumerate((t, day) for t, run in enumerate(needed) for day in run)}
    courses: list[Course] = []
    about: list[tuple[Label, int, int]] = []
    for l, label in enumerate(labels):
        for u, targets in enumerate(label.uses):
            for day in range(end):
                for again in _repeats(day, label, end):
                    last = again if again is not None else day
                    if leaves is not None and last + label.withdrawal + 1 > leaves:
                        continue
                    met = _met(targets, day, again, label, end, clause)
                    if not met or min(d for t, d in _of(clause, met)) > day + 21:
                        continue
                    doses = tuple(
                        Dose(d, gather(mob, d), 10 * l + u, _rank(d, number, l, u, size))
                        for d in ((day,) if again is None else (day, again))
                    )
                    courses.append(Course(head * label.price * len(doses), doses, met))
                    about.append((label, l, day))
    return Cohort(
        head=head,
        courses=tuple(courses),
        needs=tuple(Need(head, (k,)) for k in range(len(clause))),
        apart=_apart(courses, about),
        counters=_counters(about, labels),
    )


def _of(clause: dict[tuple[int, int], int], met: tuple[int, ...]) -> list[tuple[int, int]]:
    names = list(clause)
    return [names[k] for k in met]


def _repeats(day: int, label: Label, end: int) -> list[int | None]:
    if label.repeat_after is None:
        return [None]
    return [d for d in range(day + label.repeat_after, day + label.repeat_after + 4) if d < end]


def _met(
    targets: frozenset[int], day: int, again: int | None, label: Label, end: int, clause: dict[tuple[int, int], int]
) -> tuple[int, ...]:
    spans = [range(d, min(end, d + label.cover)) for d in ((day,) if again is None else (day, again))]
    days = sorted({d for span in spans for d in span})
    return tuple(sorted(clause[t, d] for t in targets for d in days if (t, d) in clause))


def _rank(day: int, number: int, label: int, use: int, size: Size) -> int:
    return ((day * 100 + number) * size.labels + label) * 2 + use


def _apart(courses: list[Course], about: list[tuple[Label, int, int]]) -> tuple[int, ...]:
    masks = [0] * len(courses)
    for i, (one, _, day) in enumerate(about):
        for j in range(i):
            other, _, before = about[j]
            together = False
            if one.active == other.active:
                together = abs(day - before) < max(one.interval, other.interval) or bool(
                    {d.day for d in courses[i].doses} & {d.day for d in courses[j].doses}
                )
            elif one.clash:
                together = any(abs(d.day - e.day) < one.clash for d in courses[i].doses for e in courses[j].doses)
            if together:
                masks[i] |= 1 << j
                masks[j] |= 1 << i
    return tuple(masks)


def _counters(about: list[tuple[Label, int, int]], labels: list[Label]) -> tuple[Counter, ...]:
    found = []
    for active in sorted({label.active for label in labels}):
        listed = [(i, label.most) for i, (label, _, _) in enumerate(about) if label.active == active]
        if any(most is not None for _, most in listed):
            found.append(Counter(tuple(i for i, _ in listed), tuple(99 if m is None else m for _, m in listed)))
    return tuple(found)
