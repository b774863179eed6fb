"""What money and exposure buy of each other: whole plans that no other beats, and the best for a budget."""

from collections.abc import Callable

from msgspec import Struct

from scheduler import planner
from scheduler.plan.settle import MOST_ROUNDS, Clock, PlanRefused, Question, Settled, judged, never_again
from scheduler.rules import Breach

MOST_PAIRS = 25
"""Most plans of a frontier; a keeper reads no more, and each is a whole plan."""

Found = planner.Frontier | planner.Solved | planner.TooLittle
Ask = Callable[[planner.Problem, planner.Solved], Found]


class Trades(Struct, frozen=True):
    """Doses of undominated plans, least exposed first.

    complete: no undominated pair is missing. unsearched: exposed sheep-days of neighbours between which more pairs may
    lie, because time ran out.
    """

    settled: tuple[Settled, ...]
    complete: bool
    unsearched: tuple[tuple[int, int], ...]


class TooLittle(Struct, frozen=True):
    """A budget under what accepted wishes and owed repeats cost; `least` in minor units."""

    least: int


def trades(question: Question, out_of_time: Clock, memory: planner.Memory) -> Trades:
    """The pairs of exposure and money, all or 25 of them, each lawful by the judge."""

    def ask(problem: planner.Problem, first: planner.Solved) -> planner.Frontier:
        return planner.frontier(problem, first, MOST_PAIRS, out_of_time)

    found, settled = _lawful(question, ask, out_of_time, memory)
    if not isinstance(found, planner.Frontier):
        raise PlanRefused("no frontier came back")
    return Trades(settled, found.complete, found.unsearched)


def affordable(question: Question, budget: int, out_of_time: Clock, memory: planner.Memory) -> Settled | TooLittle:
    """The least exposure, then money, of the plans of at most so much money, minor units."""

    def ask(problem: planner.Problem, first: planner.Solved) -> planner.Solved | planner.TooLittle:
        return planner.within_budget(problem, first, budget, out_of_time)

    found, settled = _lawful(question, ask, out_of_time, memory)
    return TooLittle(found.money) if isinstance(found, planner.TooLittle) else settled[0]


def _lawful(
    question: Question, ask: Ask, out_of_time: Clock, memory: planner.Memory
) -> tuple[Found, tuple[Settled, ...]]:
    """What the planner answers, asked again with what the judge sees broken struck, until it sees nothing."""
    problem = question.problem
    for _ in range(MOST_ROUNDS):
        first = planner.solve(problem, out_of_time, memory=memory)
        if isinstance(first, planner.Impossible):
            raise PlanRefused("the duties were taken one by one and do not stand together")
        found = ask(problem, first)
        settled: list[Settled] = []
        struck = problem
        for choice in _choices(found):
            one: Settled | list[Breach] = judged(question, choice)
            if isinstance(one, Settled):
                settled.append(one)
            else:
                struck = never_again(question, struck, choice, one)
        if struck == problem:
            return found, tuple(settled)
        problem = struck
    raise PlanRefused(f"still unlawful after {MOST_ROUNDS} rounds")


def _choices(found: Found) -> tuple[planner.Solved, ...]:
    if isinstance(found, planner.Frontier):
        return found.choices
    return (found,) if isinstance(found, planner.Solved) else ()
