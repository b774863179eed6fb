"""Every choice of courses, looked at one by one: the definition of the least choice, and nothing of how it is found."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, permutations, product

from scheduler.planner import Cohort, Problem

Chosen = tuple[tuple[int, ...], ...]
Key = tuple[int, int, int, int]


@dataclass(frozen=True)
class Best:
    """The least choices: `four` is their exposure, money, paid gathers and handlings; `all` who reach these."""

    four: Key
    moved: int
    ranks: tuple[int, ...]
    chosen: Chosen
    all: tuple[Chosen, ...]


def best_choice(problem: Problem) -> Best | None:
    """The one least choice, by trying all; None where none is lawful."""
    lawful = [list(lawful_plans(cohort)) for cohort in problem.cohorts]
    choices = [chosen for chosen in product(*lawful) if keeps_capacity(problem, chosen)]
    if not choices:
        return None
    keys = {chosen: first_four(problem, chosen) for chosen in choices}
    four = min(keys.values())
    equal = [chosen for chosen in choices if keys[chosen] == four]
    tidy = [chosen for chosen in equal if not _has_needless(problem, chosen, four)]
    moved, ranks, chosen = min((moved_days(problem, chosen), dose_list(problem, chosen), chosen) for chosen in tidy)
    return Best(four, moved, ranks, chosen, tuple(tidy))


def lawful_plans(cohort: Cohort) -> Iterator[tuple[int, ...]]:
    """All sets of courses of a cohort that keep its own limits."""
    for size in range(len(cohort.courses) + 1):
        for picked in combinations(range(len(cohort.courses)), size):
            if _is_lawful(cohort, picked):
                yield picked


def _is_lawful(cohort: Cohort, picked: Sequence[int]) -> bool:
    if any(cohort.apart[i] >> j & 1 for i in picked for j in picked):
        return False
    for counter in cohort.counters:
        caps = [cap for i, cap in zip(counter.courses, counter.caps, strict=True) if i in picked]
        if caps and len(caps) > min(caps):
            return False
    return all(len(set(duty) & set(picked)) == 1 for duty in cohort.duties)


def keeps_capacity(problem: Problem, chosen: Chosen) -> bool:
    """Whether no day has more head than the capacity; who is recorded on a day adds nothing to it."""
    if problem.capacity is None:
        return True
    most, taken = problem.capacity.most, problem.capacity.taken
    days = {dose.day for cohort in problem.cohorts for course in cohort.courses for dose in course.doses}
    for day in days:
        load = sum(min(head, most) for on, _, head in taken if on == day)
        recorded = {who for on, who, _ in taken if on == day}
        added = [
            min(cohort.head, most)
            for number, (cohort, picked) in enumerate(zip(problem.cohorts, chosen, strict=True))
            if number not in recorded and day in _days(cohort, picked)
        ]
        if added and load + sum(added) > most:
            return False
    return True


def first_four(problem: Problem, chosen: Chosen) -> Key:
    """Exposure, money, paid gathers and handlings of a choice."""
    exposed = money = handlings = 0
    used: set[int] = set()
    for cohort, picked in zip(problem.cohorts, chosen, strict=True):
        met = {clause for i in picked for clause in cohort.courses[i].clauses}
        exposed += cohort.fixed_exposure + sum(need.weight for need in cohort.needs if set(need.clauses) - met)
        money += sum(cohort.courses[i].cost for i in picked)
        handlings += len(_days(cohort, picked))
        used |= {dose.gather for i in picked for dose in cohort.courses[i].doses}
    money += sum(problem.gathers[g].cost for g in used)
    return exposed, money, sum(problem.gathers[g].paid for g in used), handlings


def _days(cohort: Cohort, picked: Sequence[int]) -> set[int]:
    return {dose.day for i in picked for dose in cohort.courses[i].doses}


def _has_needless(problem: Problem, chosen: Chosen, four: Key) -> bool:
    """Whether some course outside a duty can be left out at equal figures."""
    for c, (cohort, picked) in enumerate(zip(problem.cohorts, chosen, strict=True)):
        owed = {i for duty in cohort.duties for i in duty}
        for i in set(picked) - owed:
            left = (*chosen[:c], tuple(j for j in picked if j != i), *chosen[c + 1 :])
            if first_four(problem, left) == four:
                return True
    return False


def moved_days(problem: Problem, chosen: Chosen) -> int:
    """Least days between the doses of each series and its earlier days, over all ways to pair as many as can be."""
    total = 0
    for cohort, picked in zip(problem.cohorts, chosen, strict=True):
        for series, old in enumerate(cohort.earlier):
            new = [dose.day for i in picked for dose in cohort.courses[i].doses if dose.series == series]
            short, long = sorted((new, list(old)), key=len)
            total += min(
                sum(abs(a - b) for a, b in zip(short, paired, strict=True)) for paired in permutations(long, len(short))
            )
    return total


def dose_list(problem: Problem, chosen: Chosen) -> tuple[int, ...]:
    """Sorted ranks of all doses."""
    return tuple(
        sorted(
            dose.rank
            for cohort, picked in zip(problem.cohorts, chosen, strict=True)
            for i in picked
            for dose in cohort.courses[i].doses
        )
    )
