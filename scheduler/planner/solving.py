"""From the question to the answer: a lawful choice before any proof."""

from collections.abc import Callable
from dataclasses import replace

from scheduler.planner.answer import Cost, Gap, Impossible, Solved
from scheduler.planner.capacity import within_capacity
from scheduler.planner.problem import Problem
from scheduler.planner.roomy import Roomy
from scheduler.planner.score import days_over

Progress = Callable[[Cost, Gap], None]
Clock = Callable[[], bool]


def solve(problem: Problem, out_of_time: Clock, progress: Progress | None = None) -> Solved | Impossible:
    """The least choice of courses, or the word that the duties cannot be met together.

    out_of_time: asked often; once it is true the best choice so far is given, with its gap. progress: told the cost
    and the gap that is left after each component.
    """
    watch = Watch(out_of_time)
    roomy = Roomy(problem, watch, progress)
    first = roomy.answer(frozenset())
    if first is None:
        return Impossible()
    answer = within_capacity(problem, roomy, first, watch) if days_over(problem, first.chosen) else first
    if isinstance(answer, Impossible):
        return answer
    if watch.has_ended and answer.gap is None:
        return replace(answer, gap=Gap(0, 0))
    return answer


class Watch:
    """The clock, which remembers that it ran out: then ties were cut short by time, and not by work."""

    def __init__(self, out_of_time: Clock) -> None:
        self._out_of_time = out_of_time
        self.has_ended = False

    def __call__(self) -> bool:
        """Whether the time is up."""
        self.has_ended = self.has_ended or self._out_of_time()
        return self.has_ended
