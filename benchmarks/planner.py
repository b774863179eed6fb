"""Times the planner on farms of fixed seeds, beside a plain integer programme of the same question.

`python -m benchmarks.planner --farms 20 --plain 3`: at 2, 5 and 10 groups, 3 labels, nine months. The plain programme
holds all courses of the farm at once, in two stages (exposure, then money); it is run on the first few farms only.
"""

import argparse
import platform
import time
from collections.abc import Callable, Iterator
from datetime import date
from statistics import median

from benchmarks.farms import random_farm
from scheduler import planner
from scheduler.farm import read_farm
from scheduler.plan.numbers import Lot, problem_of
from scheduler.plan.options import Options
from scheduler.planner.close import whole_of
from scheduler.planner.instance import instance_of
from scheduler.planner.layout import layout_of
from scheduler.planner.relax import run
from scheduler.season import Season
from scheduler.words import Faults

TODAY = date(2027, 2, 20)
SIZES = (2, 5, 10)


def main() -> None:
    """Prints one table a size, then the shares proved in 2 s and in 15 s."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--farms", type=int, default=20, help="farms of each size")
    options.add_argument("--plain", type=int, default=1, help="farms of each size given to the plain programme too")
    options.add_argument("--seconds", type=float, default=20, help="time for the planner")
    options.add_argument("--plain-seconds", type=float, default=60, help="time for each stage of the plain programme")
    chosen = options.parse_args()
    print(f"Python {platform.python_version()} on {platform.machine()}, {platform.system()}; one core")
    for groups in SIZES:
        times = []
        print(f"\n{groups} groups, 3 labels: farm, cohorts, courses, planner s, gap, plain programme")
        for seed in range(chosen.farms):
            problem = problem_of_farm(seed, groups)
            start = time.perf_counter()
            answer = planner.solve(problem, clock(chosen.seconds))
            seconds = time.perf_counter() - start
            if not isinstance(answer, planner.Solved):
                raise SystemExit(f"farm {seed} has no answer")
            times.append(seconds if answer.gap is None else float("inf"))
            plain = told(plain_programme(problem, chosen.plain_seconds)) if seed < chosen.plain else ""
            courses = sum(len(cohort.courses) for cohort in problem.cohorts)
            print(f"{seed:4} {len(problem.cohorts):4} {courses:7} {seconds:8.2f}  {answer.gap or 'proved'}  {plain}")
        shares = ", ".join(f"{sum(t <= most for t in times) / len(times):.0%} in {most} s" for most in (2, 15))
        print(f"median {median(times):.2f} s; proved: {shares}")


def problem_of_farm(seed: int, groups: int) -> planner.Problem:
    """The planner's question for one random farm."""
    farm = read_farm(random_farm(seed, groups), TODAY)
    if isinstance(farm, Faults):
        raise SystemExit("\n".join(str(fault) for fault in farm.items))
    season = Season(farm, TODAY)
    lots = [Lot(cohort, (), (), tuple(Options(season, cohort, ()).courses())) for cohort in season.cohorts]
    return problem_of(season, lots, {})


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
