"""From the question to the answer."""

from collections.abc import Callable

from scheduler.planner.answer import Cost, Gap, Impossible, Solved
from scheduler.planner.close import least_exposure, whole_of
from scheduler.planner.instance import instance_of
from scheduler.planner.problem import Problem
from scheduler.planner.relax import lowest, run
from scheduler.planner.rows import components
from scheduler.planner.score import cost_of

Progress = Callable[[Cost, Gap], None]


def solve(problem: Problem, out_of_time: Callable[[], bool], progress: Progress | None = None) -> Solved | Impossible:
    """The least choice of courses, or the word that the duties cannot be met together."""
    found = [instance_of(number, cohort) for number, cohort in enumerate(problem.cohorts)]
    instances = [instance for instance in found if instance is not None]
    if len(instances) < len(found):
        return Impossible()
    chosen: dict[int, tuple[int, ...]] = {}
    for members in components(problem, instances):
        least = {}
        for instance in members:
            _, outcome = least_exposure(instance, out_of_time)
            if outcome.infeasible:
                return Impossible()
            least[instance.number] = lowest(outcome.bound)
        whole = whole_of(problem, members)
        for block in whole.blocks:
            whole.programme.row(block.exposure(), high=least[block.instance.number])
        for entries in (whole.money(), whole.paid(), whole.handlings()):
            whole.aim(entries)
            outcome = run(whole.programme, out_of_time)
            whole.programme.row(entries, high=lowest(outcome.bound) + 0.25)
        chosen |= whole.picked(outcome.values)
    answer = tuple(chosen[number] for number in range(len(problem.cohorts)))
    return Solved(answer, cost_of(problem, answer), None)
