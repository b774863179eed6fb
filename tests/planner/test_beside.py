"""What may be taken beside all else, against the limits of whole choices."""

from collections.abc import Iterator
from random import Random

from scheduler.planner import Beside, Problem
from scheduler.planner.score import is_lawful
from tests.planner.tiny import Mix, tiny

SEEDS, TRIES = 300, 20


def lawful_choices(problem: Problem, picks: Random) -> Iterator[list[list[int]]]:
    """Random choices that keep every limit."""
    for _ in range(TRIES):
        chosen = [[i for i in range(len(cohort.courses)) if picks.random() < 0.3] for cohort in problem.cohorts]
        if is_lawful(problem, chosen):
            yield chosen


def test_a_course_may_be_taken_where_the_whole_choice_is_lawful() -> None:
    found = []
    for seed in range(SEEDS):
        problem = tiny(seed, Mix(courses=7, capacity=seed % 2 == 0))
        for chosen in lawful_choices(problem, Random(seed)):
            for number, own in enumerate(chosen):
                chosen[number] = beside = own[1:]
                may = Beside(problem, chosen, number)
                for i in set(range(len(problem.cohorts[number].courses))) - set(beside):
                    chosen[number] = [*beside, i]
                    found.append(is_lawful(problem, chosen))
                    assert may.may_take(i) == found[-1], (seed, number, i)
                chosen[number] = own
    assert set(found) == {True, False}
