"""From the question to the answer: a lawful choice before any proof."""

from collections.abc import Callable

from scheduler.planner.answer import Cost, Gap, Impossible, Solved
from scheduler.planner.capacity import within_capacity
from scheduler.planner.exposure import SEARCH_STATES
from scheduler.planner.memory import Memory
from scheduler.planner.problem import Problem
from scheduler.planner.roomy import Roomy
from scheduler.planner.score import days_over

Progress = Callable[[Cost, Gap], None]
Clock = Callable[[], bool]


def solve(
    problem: Problem,
    out_of_time: Clock,
    progress: Progress | None = None,
    ties: bool = True,
    memory: Memory | None = None,
    states: int = SEARCH_STATES,
) -> Solved | Impossible:
    """The least choice of courses, or the word that the duties cannot be met together.

    out_of_time: asked often; once it is true the best choice so far is given, with its gap. progress: told the cost
    and the gap that is left after each component. ties: whether to decide between choices of equal cost.
    memory: takes up what an earlier call with it has solved of the same content, and keeps what this one solves.
    states: what the exact search of a cohort's exposure may look at before the slower but steadier programme.
    """
    memory = memory or Memory()
    held = {} if problem.capacity is not None else memory.held(problem, ties)
    roomy = Roomy(problem, out_of_time, progress, ties, memory, states, held)
    first = roomy.answer(frozenset())
    if first is None:
        return Impossible()
    if days_over(problem, first.chosen):
        return within_capacity(problem, roomy, first, out_of_time)
    if not out_of_time():
        memory.least += roomy.least()
    return first
