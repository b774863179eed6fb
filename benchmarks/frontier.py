"""Times the frontier of farms of fixed seeds, in seconds of the processor: 20 s are wanted for farms of 5 groups.

`python -m benchmarks.frontier --farms 8 --groups 5`: the first plan and the frontier apart, with the number of pairs,
and whether time ran out before all that were asked for were found.
"""

import argparse
import time
from collections.abc import Callable
from statistics import median

from benchmarks.planner import Size, problem_of_farm
from scheduler import planner
from scheduler.plan.trade import MOST_PAIRS

WANTED = 20


def main() -> None:
    """Prints a line a farm, then the median and the share within the time wanted."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--farms", type=int, default=8)
    options.add_argument("--groups", type=int, default=5)
    options.add_argument("--seconds", type=float, default=120, help="time for each frontier, of the processor")
    chosen = options.parse_args()
    times = []
    print(f"{Size(chosen.groups)}: farm, cohorts, first plan s, frontier s, pairs")
    for seed in range(chosen.farms):
        problem = problem_of_farm(Size(chosen.groups).farm(seed))
        start = time.process_time()
        first = planner.solve(problem, spent(chosen.seconds))
        before = time.process_time() - start
        if not isinstance(first, planner.Solved):
            raise SystemExit(f"farm {seed} has no answer")
        start = time.process_time()
        found = planner.frontier(problem, first, MOST_PAIRS, spent(chosen.seconds))
        times.append(time.process_time() - start)
        told = "" if not found.unsearched else ", time ran out"
        print(f"{seed:4} {len(problem.cohorts):4} {before:8.1f} {times[-1]:8.1f} {len(found.choices):4}{told}")
    share = sum(seconds <= WANTED for seconds in times) / len(times)
    print(f"median {median(times):.1f} s; {share:.0%} within {WANTED} s")


def spent(seconds: float) -> Callable[[], bool]:
    """Says whether this process has used so many seconds more of the processor."""
    end = time.process_time() + seconds
    return lambda: time.process_time() >= end


if __name__ == "__main__":
    main()
