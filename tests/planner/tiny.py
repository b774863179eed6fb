"""Random problems of a few courses, the same for the same seed, with everything in them that a farm could ask."""

from dataclasses import dataclass
from random import Random

from scheduler.planner import Capacity, Cohort, Counter, Course, Dose, Gather, Need, Problem

DAYS = 7
MOBS = 2
HEADS = (3, 5, 8)


@dataclass(frozen=True)
class Mix:
    """What a problem holds. courses: most of the first cohort; each later cohort has two less."""

    cohorts: int = 3
    courses: int = 7
    duties: bool = True
    capacity: bool = False


def tiny(seed: int, mix: Mix = Mix()) -> Problem:
    """A problem; gathers of every cost and kind, needs of one to three clauses, counters that forbid or differ."""
    draw = Random(seed)
    prices, costs = draw.choice((((0, 0, 3, 10), (0, 0, 1, 2, 5)), ((0,), (1,)), ((3,), (0, 2)), ((3,), (0,))))
    gathers = tuple(Gather(draw.choice(prices), draw.random() < 0.6) for _ in range(DAYS * MOBS))
    number = draw.randint(1, mix.cohorts)
    cohorts = tuple(_cohort(draw, k, draw.randint(1, mix.courses - 2 * k), mix, costs) for k in range(number))
    capacity = None
    if mix.capacity:
        taken = tuple(
            (draw.randrange(DAYS), draw.randrange(number), draw.choice(HEADS)) for _ in range(draw.randint(0, 2))
        )
        capacity = Capacity(draw.choice((4, 7, 10)), taken)
    return Problem(cohorts, gathers, capacity)


def _cohort(draw: Random, number: int, size: int, mix: Mix, costs: tuple[int, ...]) -> Cohort:
    mob = draw.randrange(MOBS)
    clauses = draw.randint(1, 6)
    span = draw.randint(1, 3)
    courses = []
    for k in range(size):
        doses = _doses(draw, number, k, mob)
        start = draw.randrange(clauses)
        courses.append(Course(draw.choice(costs), doses, tuple(range(start, min(clauses, start + span)))))
    needs = tuple(
        Need(
            draw.choice((0, 1, 1, 2, 7)),
            tuple(sorted(draw.sample(range(clauses), min(clauses, draw.choice((1, 1, 2, 3)))))),
        )
        for _ in range(draw.randint(1, 6))
    )
    return Cohort(
        head=draw.choice(HEADS),
        courses=tuple(courses),
        needs=needs,
        apart=_apart(draw, size),
        counters=tuple(_counter(draw, size) for _ in range(draw.choice((0, 0, 1, 2)))),
        duties=_duties(draw, size) if mix.duties else (),
        earlier=tuple(tuple(sorted(draw.sample(range(DAYS), draw.choice((0, 1, 2))))) for _ in range(3)),
        fixed_exposure=draw.choice((0, 0, 4)),
    )


def _doses(draw: Random, number: int, course: int, mob: int) -> tuple[Dose, ...]:
    """One or two doses; the second may be another mob's, as after a weaning."""
    days = sorted(draw.sample(range(DAYS), draw.choice((1, 1, 1, 2))))
    return tuple(
        Dose(
            day,
            day * MOBS + (mob if k == 0 else draw.randrange(MOBS)),
            draw.randrange(3),
            (day * 4 + number) * 32 + 2 * course + k,
        )
        for k, day in enumerate(days)
    )


def _apart(draw: Random, size: int) -> tuple[int, ...]:
    masks = [0] * size
    density = draw.choice((0.1, 0.3, 0.5))
    for i in range(size):
        for j in range(i):
            if draw.random() < density:
                masks[i] |= 1 << j
                masks[j] |= 1 << i
    return tuple(masks)


def _counter(draw: Random, size: int) -> Counter:
    courses = tuple(sorted(draw.sample(range(size), draw.randint(1, size))))
    return Counter(courses, tuple(draw.choice((0, 1, 1, 2, 3, 9)) for _ in courses))


def _duties(draw: Random, size: int) -> tuple[tuple[int, ...], ...]:
    if draw.random() < 0.6:
        return ()
    return tuple(
        tuple(sorted(draw.sample(range(size), min(size, draw.choice((1, 2)))))) for _ in range(draw.choice((1, 1, 2)))
    )
