"""What the planner is asked: cohorts, courses, needs and gathers as whole numbers. It has never heard of a sheep.

Lexicographic objective over all choices of courses that keep every `apart`, `counter`, `duty` and day capacity:
1. exposure: sum of `fixed_exposure` and of the weights of needs not met;
2. money: sum of course costs and of the costs of the gathers used (each once);
3. paid gathers used (gathers with `paid`, whatever they cost);
4. handlings: distinct (cohort, day) with a dose;
   then only choices from which no course outside a duty can be left out at equal 1 to 4;
5. days moved against `earlier` (see Cohort);
6. the least sorted list of dose ranks.
"""

from msgspec import Struct


class Dose(Struct, frozen=True):
    """One dose of a course: its day, gather and series, and its rank in the order of objective 6."""

    day: int
    gather: int
    series: int
    rank: int


class Course(Struct, frozen=True):
    """A first dose with the repeat it obliges. `clauses` are the numbers (within the cohort) that it meets."""

    cost: int
    doses: tuple[Dose, ...]
    clauses: tuple[int, ...]


class Need(Struct, frozen=True):
    """Met where every one of its clauses is met by some chosen course; else its weight is exposure."""

    weight: int
    clauses: tuple[int, ...]


class Counter(Struct, frozen=True):
    """Of the courses listed, the number chosen may not exceed the least cap among those chosen (cap 0: never)."""

    courses: tuple[int, ...]
    caps: tuple[int, ...]


class Cohort(Struct, frozen=True):
    """What is decided together for one cohort; all numbers of courses are positions in `courses`.

    apart[i]: bit mask of the courses that may not be chosen with course i (symmetric, bit i itself clear).
    duties: of each tuple exactly one course is chosen. A course in a duty is chosen for nothing else.
    earlier[s]: ascending days of series s in the earlier plan. Days moved is the least sum of |new - old| over an
    order-keeping matching of the chosen doses of a series with its earlier days, as many pairs as the shorter list has.
    head: sheep that count against the day capacity, once a day however many doses.
    """

    head: int
    courses: tuple[Course, ...]
    needs: tuple[Need, ...]
    apart: tuple[int, ...]
    counters: tuple[Counter, ...] = ()
    duties: tuple[tuple[int, ...], ...] = ()
    earlier: tuple[tuple[int, ...], ...] = ()
    fixed_exposure: int = 0


class Gather(Struct, frozen=True):
    """Bringing in one mob on one day: its cost, once, whatever is done; `paid` False where it comes free."""

    cost: int
    paid: bool


class Capacity(Struct, frozen=True):
    """The most head that may be dosed on each day; `taken` are (day, cohort, head) already dosed and recorded.

    A cohort with a `taken` entry on a day adds nothing more that day. A cohort whose head alone is over `most`
    counts as `most`, so that it may be dosed only alone.
    """

    most: int
    taken: tuple[tuple[int, int, int], ...] = ()


class Problem(Struct, frozen=True):
    """The whole question."""

    cohorts: tuple[Cohort, ...]
    gathers: tuple[Gather, ...]
    capacity: Capacity | None = None
