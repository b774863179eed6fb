"""Programmes of one cohort's exposure and of whole components."""

from array import array
from collections.abc import Sequence

from msgspec import Struct

from scheduler.planner.layout import Layout
from scheduler.planner.problem import Problem
from scheduler.planner.relax import Programme
from scheduler.planner.rows import Block, add_cohort, add_items


class Whole(Struct):
    """One programme over some cohorts, with its columns of gathers."""

    problem: Problem
    programme: Programme
    blocks: list[Block]
    gathers: dict[int, int]

    def picked(self, values: Sequence[float]) -> dict[int, tuple[int, ...]]:
        """The courses taken at a whole point, by number of cohort."""
        return {block.number: block.picked(values) for block in self.blocks}

    def plans(self, values: Sequence[float], layouts: Sequence[Layout]) -> list[int]:
        """The courses taken at a whole point, as a plan for each of these layouts of the cohorts."""
        picked = self.picked(values)
        return [layout.instance.mask_of(picked[layout.instance.number]) for layout in layouts]

    def money(self) -> list[tuple[int, float]]:
        """Entries of money: courses and gathers."""
        return self.courses() + [(y, float(self.problem.gathers[g].cost)) for g, y in self.gathers.items()]

    def courses(self) -> list[tuple[int, float]]:
        """Entries of the costs of courses."""
        return [entry for block in self.blocks for entry in block.money()]

    def paid(self) -> list[tuple[int, float]]:
        """Entries of paid gathers."""
        return [(y, 1.0) for g, y in self.gathers.items() if self.problem.gathers[g].paid]

    def handlings(self) -> list[tuple[int, float]]:
        """Entries of handlings."""
        return [entry for block in self.blocks for entry in block.handlings()]

    def aim_cost(self) -> int:
        """Makes money, then paid gathers, then handlings the objective, as one sum; gives the unit of money in it."""
        handlings, paid = self.handlings(), self.paid()
        counts = len(handlings) + 1
        each = counts * (len(paid) + 1)
        self.aim((each, self.money()), (counts, paid), (1, handlings))
        return each

    def aim(self, *parts: tuple[float, Sequence[tuple[int, float]]]) -> None:
        """Makes the sum of these entries, each with its factor, the objective."""
        self.programme.cost = array("d", bytes(8 * len(self.programme.cost)))
        for factor, entries in parts:
            for column, value in entries:
                self.programme.cost[column] += factor * value


def whole_of(problem: Problem, layouts: Sequence[Layout], relaxed: bool = False) -> Whole:
    """The programme of some cohorts with their items and gathers."""
    programme = Programme()
    blocks = [add_cohort(programme, layout, relaxed) for layout in layouts]
    gathers: dict[int, int] = {}
    for block in blocks:
        add_items(programme, block, gathers)
    return Whole(problem, programme, blocks, gathers)


def exposure_of(layout: Layout, relaxed: bool = False) -> tuple[Programme, Block]:
    """The programme of one cohort's exposure that can be avoided."""
    programme = Programme()
    block = add_cohort(programme, layout, relaxed)
    for column, weight in block.exposure():
        programme.cost[column] = weight
    return programme, block
