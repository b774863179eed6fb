"""Times the planner on farms of fixed seeds, beside a plain integer programme of the same question.

`python -m benchmarks.planner --farms 20 --plain 3`: 2, 5 and 10 groups and 3 labels over nine months; then all groups
in few mobs, and an adviser's farms of 30 groups. The plain programme holds all courses of the farm at once, in two
stages (exposure, then money); it is run on the first few farms of up to 10 groups only.
"""

import argparse
import platform
import resource
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from statistics import median

from benchmarks.farms import random_farm
from scheduler import planner
from scheduler.farm import read_farm
from scheduler.plan.settle import question_of
from scheduler.planner.close import whole_of
from scheduler.planner.instance import instance_of
from scheduler.planner.layout import layout_of
from scheduler.planner.relax import run
from scheduler.season import Season
from scheduler.words import Faults

TODAY = date(2027, 2, 20)
MOST_GROUPS_PLAIN = 10


@dataclass(frozen=True)
class Size:
    """Farms of one size; seconds: what the planner is given, where not as asked. few: so many farms at most."""

    groups: int
    labels: int = 3
    targets: int = 2
    mobs: int = 1
    dealt: bool = False
    seconds: float | None = None
    few: int = 1000

    def __str__(self) -> str:
        held = f", all in {self.mobs} mobs" if self.dealt else ""
        return f"{self.groups} groups, {self.labels} labels, {self.targets} targets{held}"

    def farm(self, seed: int) -> dict[str, bytes]:
        """One farm of this size."""
        return random_farm(seed, self.groups, self.labels, self.targets, self.mobs, self.dealt)


SIZES = (
    Size(2),
    Size(5),
    Size(10),
    Size(10, dealt=True),
    Size(30, mobs=3, dealt=True, few=5),
    Size(30, labels=8, targets=3, mobs=3, dealt=True, seconds=60, few=2),
)


def main() -> None:
    """Prints one table a size, then the shares proved in 2 s and in 15 s."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--farms", type=int, default=20, help="farms of each size")
    options.add_argument("--plain", type=int, default=1, help="farms of each size given to the plain programme too")
    options.add_argument("--seconds", type=float, default=20, help="time for the planner")
    options.add_argument("--plain-seconds", type=float, default=60, help="time for each stage of the plain programme")
    chosen = options.parse_args()
    print(f"Python {platform.python_version()} on {platform.machine()}, {platform.system()}; one core")
    for size in SIZES:
        times = []
        print(f"\n{size}: farm, cohorts, courses, planner s, gap, share of money, peak MB, plain programme")
        for seed in range(min(chosen.farms, size.few)):
            problem = problem_of_farm(size.farm(seed))
            start = time.perf_counter()
            answer = planner.solve(problem, clock(size.seconds or chosen.seconds))
            seconds = time.perf_counter() - start
            if not isinstance(answer, planner.Solved):
                raise SystemExit(f"farm {seed} has no answer")
            times.append(seconds if answer.gap is None else float("inf"))
            small = seed < chosen.plain and size.groups <= MOST_GROUPS_PLAIN
            plain = told(plain_programme(problem, chosen.plain_seconds)) if small else ""
            courses = sum(len(cohort.courses) for cohort in problem.cohorts)
            size_of = f"{seed:4} {len(problem.cohorts):4} {courses:7}"
            print(f"{size_of} {seconds:8.2f}  {gap_of(answer)}  {peak_mb():5.0f}  {plain}")
        shares = ", ".join(f"{sum(t <= most for t in times) / len(times):.0%} in {most} s" for most in (2, 15))
        print(f"median {median(times):.2f} s; proved: {shares}")


def gap_of(answer: planner.Solved) -> str:
    """The gap of money with its share of the money, or that there is none."""
    if answer.gap is None:
        return "proved"
    if answer.gap.money is None:
        return f"{answer.gap.exposure} sheep-days"
    return f"{answer.gap.money} {answer.gap.money / answer.cost.money:.2%}"


def peak_mb() -> float:
    """Most memory of this process so far, in megabytes."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def season_of(files: dict[str, bytes]) -> Season:
    """The season of a farm that reads without faults."""
    farm = read_farm(files, TODAY)
    if isinstance(farm, Faults):
        raise SystemExit("\n".join(str(fault) for fault in farm.items))
    return Season(farm, TODAY)


def problem_of_farm(files: dict[str, bytes]) -> planner.Problem:
    """The planner's question for one farm."""
    return question_of(season_of(files), (), {}).problem


def plain_programme(problem: planner.Problem, seconds: float) -> Iterator[tuple[str, float]]:
    """The stages of one programme over all cohorts and courses, each with the seconds it took."""
    instances = [instance_of(number, cohort) for number, cohort in enumerate(problem.cohorts)]
    whole = whole_of(problem, [layout_of(instance) for instance in instances if instance is not None])
    exposure = [entry for block in whole.blocks for entry in block.exposure()]
    for name, entries in (("exposure", exposure), ("money", whole.money())):
        whole.aim((1.0, entries))
        start = time.perf_counter()
        outcome = run(whole.programme, clock(seconds))
        yield f"{name} {'proved' if outcome.optimal else 'open'}", time.perf_counter() - start
        if not outcome.optimal:
            return
        whole.programme.row(entries, high=outcome.bound + 0.5)


def told(stages: Iterator[tuple[str, float]]) -> str:
    """The stages in a few words."""
    return ", ".join(f"{name} {seconds:.1f} s" for name, seconds in stages)


def clock(seconds: float) -> Callable[[], bool]:
    """Says whether so many seconds have gone by."""
    end = time.perf_counter() + seconds
    return lambda: time.perf_counter() >= end


if __name__ == "__main__":
    main()
