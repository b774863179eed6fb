"""Integer programmes of whole components, stage by stage: exposure, money, paid gathers and handlings."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from scheduler.planner.instance import Instance
from scheduler.planner.problem import Problem
from scheduler.planner.relax import Outcome, Programme, run
from scheduler.planner.rows import Block, add_cohort, add_days, add_gathers

OutOfTime = Callable[[], bool]


@dataclass(slots=True)
class Whole:
    """One programme over some cohorts, with its columns of gathers."""

    problem: Problem
    programme: Programme
    blocks: list[Block]
    gathers: dict[int, int]

    def picked(self, values: Sequence[float]) -> dict[int, tuple[int, ...]]:
        """The courses taken at a whole point, by number of cohort."""
        return {block.instance.number: block.picked(values) for block in self.blocks}

    def exposure(self) -> list[tuple[int, float]]:
        """Entries of exposure."""
        return [entry for block in self.blocks for entry in block.exposure()]

    def money(self) -> list[tuple[int, float]]:
        """Entries of money: courses and gathers."""
        courses = [entry for block in self.blocks for entry in block.money()]
        return courses + [(y, float(self.problem.gathers[g].cost)) for g, y in self.gathers.items()]

    def paid(self) -> list[tuple[int, float]]:
        """Entries of paid gathers."""
        return [(y, 1.0) for g, y in self.gathers.items() if self.problem.gathers[g].paid]

    def handlings(self) -> list[tuple[int, float]]:
        """Entries of handlings."""
        return [(column, 1.0) for block in self.blocks for column in block.days.values()]

    def aim(self, entries: Sequence[tuple[int, float]]) -> None:
        """Makes these entries the objective."""
        self.programme.cost = [0.0] * len(self.programme.cost)
        for column, value in entries:
            self.programme.cost[column] += value


def whole_of(problem: Problem, instances: Sequence[Instance]) -> Whole:
    """The programme of some cohorts, with gathers and handled days."""
    programme = Programme()
    blocks = [add_cohort(programme, instance) for instance in instances]
    gathers = add_gathers(programme, blocks)
    for block in blocks:
        add_days(programme, block)
    return Whole(problem, programme, blocks, gathers)


def least_exposure(instance: Instance, out_of_time: OutOfTime, whole: bool = True) -> tuple[Block, Outcome]:
    """The programme of one cohort's exposure, which can be avoided."""
    programme = Programme()
    block = add_cohort(programme, instance)
    for column, weight in block.unmet:
        programme.cost[column] = weight
    return block, run(programme, out_of_time, whole=whole)
