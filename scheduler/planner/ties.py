"""What decides between plans of equal cost: no needless course, then days moved, then the least list of doses."""

from collections import Counter
from collections.abc import Iterator, Sequence

from msgspec import Struct

from scheduler.planner.instance import Instance, bits
from scheduler.planner.score import keeps_limits, moved_days

Match = tuple[int, ...]


class Ties(Struct, frozen=True):
    """Extras of the courses of one cohort: days moved above, the list of doses below.

    lists: by course, what its doses take off; the more and the earlier the ranks, the less. pairs: by course, its
    (series, day) that the earlier plan has. earlier: days by series. monotone: series whose doses come in day order.
    width: bits that a rank takes in a list. start: no day paired. whole_plans: True where a course may be needless at
    no cost, so that states with different pasts may not stand in for each other.
    """

    instance: Instance
    lists: tuple[int, ...]
    pairs: tuple[tuple[tuple[int, int], ...], ...]
    earlier: tuple[tuple[int, ...], ...]
    monotone: tuple[bool, ...]
    width: int
    day_unit: int
    start: Match
    whole_plans: bool

    def extra(self, plan: int) -> int:
        """The extra of a plan without needless courses."""
        moved = moved_days(self.instance.cohort, self.instance.picked(plan))
        return moved * self.day_unit + sum(self.lists[i] for i in bits(plan))

    def floors(self, days: Sequence[int]) -> tuple[int, ...]:
        """After each day, what the courses of later days can at most take off; days: masks of their courses."""
        floors, most = [], 0
        for courses in reversed(days):
            floors.append(-most)
            longest = max((-self.lists[i]).bit_length() for i in bits(courses))
            most = max(most, 1 << -(-longest // self.width) * self.width)
        return tuple(reversed(floors))

    def ways(self, i: int, match: Match) -> Iterator[tuple[Match, int]]:
        """Ways to pair the doses of course i with earlier days: (pairs after it, extra)."""
        open_ways = [(match, self.lists[i])]
        for series, day in self.pairs[i]:
            open_ways = [
                (after, extra + moved * self.day_unit)
                for before, extra in open_ways
                for after, moved in self._one(series, day, before)
            ]
        return iter(open_ways)

    def _one(self, series: int, day: int, match: Match) -> Iterator[tuple[Match, int]]:
        """One dose paired with each earlier day left, or with none. Bit 0 says that a dose went without."""
        mask = match[series]
        days = self.earlier[series]
        first = max(0, mask.bit_length() - 1) if self.monotone[series] else 0
        for k in range(first, len(days)):
            if not mask >> (k + 1) & 1:
                yield (*match[:series], mask | 2 << k, *match[series + 1 :]), abs(day - days[k])
        yield (*match[:series], mask | 1, *match[series + 1 :]), 0

    def is_whole(self, plan: int, match: Match) -> bool:
        """Whether as many are paired as can be, and no course is needless."""
        for mask, days in zip(match, self.earlier, strict=True):
            if mask & 1 and mask.bit_count() <= len(days):
                return False
        return not self.whole_plans or not needless(self.instance, plan)


def ties_of(instance: Instance) -> Ties:
    """The ties of a cohort, on its live courses."""
    ranks = sorted({dose.rank for course in instance.courses for dose in course.doses})
    place = {rank: len(ranks) - 1 - k for k, rank in enumerate(ranks)}
    width = _width(instance)
    series = [s for s, days in enumerate(instance.cohort.earlier) if days]
    number = {s: k for k, s in enumerate(series)}
    owed = 0
    for duty in instance.duties:
        owed |= duty
    return Ties(
        instance=instance,
        lists=tuple(-sum(1 << width * place[dose.rank] for dose in course.doses) for course in instance.courses),
        pairs=tuple(
            tuple((number[dose.series], dose.day) for dose in course.doses if dose.series in number)
            for course in instance.courses
        ),
        earlier=tuple(instance.cohort.earlier[s] for s in series),
        monotone=tuple(_is_monotone(instance, s) for s in series),
        width=width,
        day_unit=1 << width * (len(ranks) + 1),
        start=(0,) * len(series),
        whole_plans=any(course.cost == 0 and not owed >> i & 1 for i, course in enumerate(instance.courses)),
    )


def _width(instance: Instance) -> int:
    """Bits a rank takes in a list's weight: 1 where no two courses that go together share a rank."""
    sharing: dict[int, int] = {}
    for i, course in enumerate(instance.courses):
        for dose in course.doses:
            sharing[dose.rank] = sharing.get(dose.rank, 0) | 1 << i
    alone = all(mask & ~(instance.apart[i] | 1 << i) == 0 for mask in sharing.values() for i in bits(mask))
    return 1 if alone else sum(len(course.doses) for course in instance.courses).bit_length()


def _is_monotone(instance: Instance, series: int) -> bool:
    """Whether the doses of a series come in day order as the courses do."""
    days = [
        (dose.day, k) for course in instance.courses for k, dose in enumerate(course.doses) if dose.series == series
    ]
    return all(k == 0 for _, k in days) and days == sorted(days)


def needless(instance: Instance, plan: int) -> int:
    """A course outside duties whose leaving out keeps every need met that is met, as a mask; 0 where there is none."""
    owed = 0
    for duty in instance.duties:
        owed |= duty
    wanted = [clauses for _, clauses in instance.needs if all(plan & clause for clause in clauses)]
    for i in reversed(list(bits(plan & ~owed))):
        left = plan & ~(1 << i)
        if all(left & clause for clauses in wanted for clause in clauses):
            return 1 << i
    return 0


def without_needless(instance: Instance, plan: int) -> int:
    """The plan without courses that can be left out at equal exposure, the latest first."""
    while drop := needless(instance, plan):
        plan &= ~drop
    return plan


def as_before(instance: Instance, plan: int) -> int | None:
    """The plan with the doses of the earlier one outside its duties; None where they do not stand together."""
    left = Counter((series, day) for series, days in enumerate(instance.cohort.earlier) for day in days)
    owed = 0
    for duty in instance.duties:
        owed |= duty
    again = plan & owed
    free = bits((1 << len(instance.courses)) - 1 & ~owed)
    for i in sorted(free, key=lambda i: -len(instance.courses[i].doses)):
        wanted = Counter((dose.series, dose.day) for dose in instance.courses[i].doses)
        if wanted <= left and not instance.apart[i] & again:
            again |= 1 << i
            left -= wanted
    again = without_needless(instance, again)
    return again if keeps_limits(instance.cohort, instance.picked(again)) else None


def list_key(ranks: Sequence[int]) -> list[float]:
    """Sorted ranks, comparable so that of two lists that begin alike the longer is less, as in the weights."""
    return [*ranks, float("inf")]
