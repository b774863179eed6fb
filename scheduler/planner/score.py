"""The exact cost of a choice, and whether it keeps every limit: the judge that every answer passes."""

from collections import defaultdict
from collections.abc import Sequence

from scheduler.planner.answer import Cost
from scheduler.planner.problem import Capacity, Cohort, Problem

Chosen = Sequence[Sequence[int]]


def cost_of(problem: Problem, chosen: Chosen) -> Cost:
    """Cost of the courses chosen for each cohort, in the units of the problem; limits are not looked at."""
    gathers = {
        dose.gather
        for cohort, picked in zip(problem.cohorts, chosen, strict=True)
        for i in picked
        for dose in cohort.courses[i].doses
    }
    pairs = list(zip(problem.cohorts, chosen, strict=True))
    return Cost(
        exposure=sum(exposure(cohort, picked) for cohort, picked in pairs),
        money=sum(cohort.courses[i].cost for cohort, picked in pairs for i in picked)
        + sum(problem.gathers[g].cost for g in gathers),
        paid_gathers=sum(problem.gathers[g].paid for g in gathers),
        handlings=sum(len(handled_days(cohort, picked)) for cohort, picked in pairs),
        moved=sum(moved_days(cohort, picked) for cohort, picked in pairs),
    )


def exposure(cohort: Cohort, picked: Sequence[int]) -> int:
    """Weights of the needs that the picked courses leave unmet, with what is exposed whatever is done."""
    met = {clause for i in picked for clause in cohort.courses[i].clauses}
    unmet = sum(need.weight for need in cohort.needs if not met.issuperset(need.clauses))
    return cohort.fixed_exposure + unmet


def handled_days(cohort: Cohort, picked: Sequence[int]) -> set[int]:
    """Days on which the cohort is dosed."""
    return {dose.day for i in picked for dose in cohort.courses[i].doses}


def moved_days(cohort: Cohort, picked: Sequence[int]) -> int:
    """Days moved against the earlier plan, over all series of the cohort."""
    new: dict[int, list[int]] = defaultdict(list)
    for i in picked:
        for dose in cohort.courses[i].doses:
            new[dose.series].append(dose.day)
    return sum(matched_days(sorted(new[s]), old) for s, old in enumerate(cohort.earlier) if s in new)


def matched_days(new: Sequence[int], old: Sequence[int]) -> int:
    """Least sum of |new - old| over order-keeping pairs, as many as the shorter of the two ascending lists has."""
    short, long = (new, old) if len(new) <= len(old) else (old, new)
    spare = len(long) - len(short)
    best = [0] * (spare + 1)
    for i, day in enumerate(short):
        row: list[int] = []
        for skipped in range(spare + 1):
            here = best[skipped] + abs(day - long[i + skipped])
            row.append(min(here, row[-1]) if row else here)
        best = row
    return best[-1]


def dose_list(problem: Problem, chosen: Chosen) -> list[int]:
    """Sorted ranks of all doses: the last objective."""
    return sorted(
        dose.rank
        for cohort, picked in zip(problem.cohorts, chosen, strict=True)
        for i in picked
        for dose in cohort.courses[i].doses
    )


def is_lawful(problem: Problem, chosen: Chosen) -> bool:
    """Whether the choice keeps apart, counters, duties and the day capacity."""
    alone = all(keeps_limits(cohort, picked) for cohort, picked in zip(problem.cohorts, chosen, strict=True))
    return alone and not days_over(problem, chosen)


def days_over(problem: Problem, chosen: Chosen) -> tuple[int, ...]:
    """Days on which more head are dosed than the capacity allows, ascending."""
    if problem.capacity is None:
        return ()
    room = Room(problem.capacity)
    load: dict[int, int] = defaultdict(int)
    for number, (cohort, picked) in enumerate(zip(problem.cohorts, chosen, strict=True)):
        for day in handled_days(cohort, picked):
            load[day] += room.head(number, cohort.head, day)
    return tuple(sorted(day for day, head in load.items() if head > room.left(day)))


class Room:
    """Head that may still be dosed on a day beside what is recorded already."""

    def __init__(self, capacity: Capacity) -> None:
        self._most = capacity.most
        self._recorded = {(day, cohort) for day, cohort, _ in capacity.taken}
        self._taken: dict[int, int] = defaultdict(int)
        for day, _, head in capacity.taken:
            self._taken[day] += min(head, capacity.most)

    def head(self, cohort: int, head: int, day: int) -> int:
        """What a cohort of so many head adds on a day: nothing where it is recorded already."""
        return 0 if (day, cohort) in self._recorded else min(head, self._most)

    def left(self, day: int) -> int:
        """Head that may be added on a day, 0 or more."""
        return max(0, self._most - self._taken.get(day, 0))


def keeps_limits(cohort: Cohort, picked: Sequence[int]) -> bool:
    """Whether the courses picked keep apart, counters and duties."""
    mask = sum(1 << i for i in picked)
    if len(set(picked)) != len(picked) or any(cohort.apart[i] & mask for i in picked):
        return False
    for counter in cohort.counters:
        caps = [cap for i, cap in zip(counter.courses, counter.caps, strict=True) if mask >> i & 1]
        if caps and len(caps) > min(caps):
            return False
    return all(sum(mask >> i & 1 for i in duty) == 1 for duty in cohort.duties)


class Beside:
    """What one cohort may still take beside all else that is chosen, reckoned once for many courses."""

    def __init__(self, problem: Problem, chosen: Chosen, number: int) -> None:
        self._cohort, own = problem.cohorts[number], chosen[number]
        self._apart = 0
        for i in own:
            self._apart |= self._cohort.apart[i] | 1 << i
        self._room: dict[int, list[tuple[int, int]]] = defaultdict(list)
        for counter in self._cohort.counters:
            caps = dict(zip(counter.courses, counter.caps, strict=True))
            taken = [caps[i] for i in own if i in caps]
            for i, cap in caps.items():
                self._room[i].append((min([cap, *taken]), len(taken) + 1))
        self._open_duties = [set(duty) for duty in self._cohort.duties if not set(duty) & set(own)]
        self._met_duties = {i for duty in self._cohort.duties if set(duty) & set(own) for i in duty}
        self._full = self._days_full(problem, chosen, number)

    def may_take(self, i: int) -> bool:
        """Whether the cohort keeps every limit with this course; its duties too, but for one that the course meets."""
        return (
            not self._apart >> i & 1
            and all(most >= with_it for most, with_it in self._room.get(i, ()))
            and i not in self._met_duties
            and all(i in duty for duty in self._open_duties)
            and not any(dose.day in self._full for dose in self._cohort.courses[i].doses)
        )

    def _days_full(self, problem: Problem, chosen: Chosen, number: int) -> set[int]:
        """Days without room for the cohort, but those on which it is dosed anyway."""
        if problem.capacity is None:
            return set()
        room = Room(problem.capacity)
        load: dict[int, int] = defaultdict(int)
        for other, (cohort, picked) in enumerate(zip(problem.cohorts, chosen, strict=True)):
            for day in handled_days(cohort, picked):
                load[day] += room.head(other, cohort.head, day)
        own = handled_days(self._cohort, chosen[number])
        days = {dose.day for course in self._cohort.courses for dose in course.doses} - own
        return {day for day in days if load[day] + room.head(number, self._cohort.head, day) > room.left(day)}
