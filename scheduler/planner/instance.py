"""A cohort as whole numbers and bit masks, without what can be in no answer."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache

from msgspec import Struct

from scheduler.planner.bitgrid import reordered
from scheduler.planner.problem import Cohort, Course


class Instance(Struct, frozen=True):
    """The live courses of a cohort, in order of first day, and what they must and may meet.

    All bit i of a mask over courses is the i-th live course; `origin[i]` is its number in the cohort.
    needs: (weight, clauses as masks over the courses that meet them); each clause can be met.
    duties: masks over courses, exactly one of each is chosen. lost: exposure that no choice avoids.
    counters: (course, cap) pairs; never with more room than courses.
    """

    number: int
    cohort: Cohort
    origin: tuple[int, ...]
    courses: tuple[Course, ...]
    apart: tuple[int, ...]
    needs: tuple[tuple[int, tuple[int, ...]], ...]
    duties: tuple[int, ...]
    counters: tuple[tuple[tuple[int, int], ...], ...]
    lost: int

    def picked(self, mask: int) -> tuple[int, ...]:
        """Numbers in the cohort of the courses in a mask, ascending."""
        return tuple(sorted(self.origin[i] for i in bits(mask)))

    def mask_of(self, picked: Iterable[int]) -> int:
        """Mask of courses given by their number in the cohort; those not live are passed over."""
        place = {course: i for i, course in enumerate(self.origin)}
        return sum(1 << place[i] for i in picked if i in place)


def bits(mask: int) -> Iterator[int]:
    """Positions of the ones of a mask, ascending."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


@lru_cache(maxsize=8192)
def members(mask: int) -> tuple[int, ...]:
    """Positions of the ones of a mask, ascending; kept for masks that are asked for again and again."""
    return tuple(bits(mask))


def instance_of(number: int, cohort: Cohort, struck: int = 0) -> Instance | None:
    """The cohort reduced, without the courses of the mask `struck`; None where a duty is left without a course."""
    apart = _apart_with_duties(cohort)
    alive = ((1 << len(cohort.courses)) - 1) & ~struck & ~_never(cohort)
    due = [_mask(duty) for duty in cohort.duties]
    owed = 0
    for duty in due:
        owed |= duty
    alive = _without_clashes(alive, apart, due)
    if any(not duty & alive for duty in due):
        return None
    needs, lost, alive = _needs(cohort, alive, owed)
    order = sorted(bits(alive), key=lambda i: (_first_day(cohort.courses[i]), i))
    place = {course: i for i, course in enumerate(order)}
    moved = iter(reordered([clause for clauses in needs for clause in clauses], order, len(cohort.courses)))
    return Instance(
        number=number,
        cohort=cohort,
        origin=tuple(order),
        courses=tuple(cohort.courses[i] for i in order),
        apart=reordered([apart[i] for i in order], order, len(cohort.courses)),
        needs=tuple((weight, tuple(next(moved) for _ in clauses)) for clauses, weight in needs.items()),
        duties=reordered(due, order, len(cohort.courses)),
        counters=_counters(cohort, place),
        lost=lost,
    )


def _mask(numbers: Iterable[int]) -> int:
    mask = 0
    for i in numbers:
        mask |= 1 << i
    return mask


def _first_day(course: Course) -> int:
    return min((dose.day for dose in course.doses), default=0)


def _apart_with_duties(cohort: Cohort) -> list[int]:
    """`apart`, with the courses of one duty apart from each other."""
    apart = list(cohort.apart)
    for duty in cohort.duties:
        mask = _mask(duty)
        for i in duty:
            apart[i] |= mask & ~(1 << i)
    return apart


def _never(cohort: Cohort) -> int:
    """Courses that a counter forbids alone."""
    return _mask(
        i for counter in cohort.counters for i, cap in zip(counter.courses, counter.caps, strict=True) if cap < 1
    )


def _without_clashes(alive: int, apart: Sequence[int], due: Sequence[int]) -> int:
    """The mask without courses that are apart from every course left for some duty."""
    while True:
        left = alive
        for i in bits(alive):
            if any(not (duty & alive & ~apart[i]) for duty in due):
                left &= ~(1 << i)
        if left == alive:
            return alive
        alive = left


def _needs(cohort: Cohort, alive: int, owed: int) -> tuple[dict[tuple[int, ...], int], int, int]:
    """Needs that can be met, by the masks that meet their clauses; what is lost anyway; the courses of any use."""
    meets: dict[int, int] = defaultdict(int)
    for i, course in enumerate(cohort.courses):
        for clause in course.clauses:
            meets[clause] |= 1 << i
    while True:
        lost = cohort.fixed_exposure
        useful = owed
        needs: dict[tuple[int, ...], int] = defaultdict(int)
        for need in cohort.needs:
            clauses = {meets[clause] & alive for clause in need.clauses}
            if 0 in clauses:
                lost += need.weight
            elif need.weight and clauses:
                needs[tuple(sorted(clauses))] += need.weight
                for clause in clauses:
                    useful |= clause
        if alive & ~useful == 0:
            return needs, lost, alive
        alive &= useful


def _counters(cohort: Cohort, place: dict[int, int]) -> tuple[tuple[tuple[int, int], ...], ...]:
    """Counters over the live courses that could be overrun."""
    found = []
    for counter in cohort.counters:
        pairs = [(place[i], cap) for i, cap in zip(counter.courses, counter.caps, strict=True) if i in place]
        if pairs and min(cap for _, cap in pairs) < len(pairs):
            found.append(tuple(sorted(pairs)))
    return tuple(found)
