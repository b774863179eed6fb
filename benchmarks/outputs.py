"""Times the writing of a long calendar, and weighs the page of farms of ten groups.

`python -m benchmarks.outputs` plans farms of fixed seeds, writes a calendar of 2,000 doses five times, each with its
reasons and two alarms (wanted: under 0.5 s), and prints how large each farm's page is (wanted: under 300 kB). These
are aims of this program, without source; the time holds for no machine in particular.
"""

import argparse
import statistics
import time
from datetime import timedelta

from msgspec.structs import replace

from benchmarks.farms import random_farm
from benchmarks.planner import TODAY, clock
from scheduler.farm import Farm, read_farm
from scheduler.outputs import calendar_ics, summary_html
from scheduler.plan import plan_to_explain
from scheduler.report import SeasonReport, cautions_of, report_of

EVENTS, RUNS = 2000, 5


def main() -> None:
    """Prints a line for the calendar, and one a farm."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--farms", type=int, default=5)
    options.add_argument("--groups", type=int, default=10)
    options.add_argument("--seconds", type=float, default=5, help="time for each planning")
    chosen = options.parse_args()
    reports = [report(seed, chosen.groups, chosen.seconds) for seed in range(chosen.farms)]
    long = with_doses(reports[0])
    times = [seconds_to_write(long) for _ in range(RUNS)]
    print(f"{EVENTS} events, {len(calendar_ics(long)):,} bytes: median {statistics.median(times):.2f} s")
    for seed, told in enumerate(reports):
        cohorts, size = len(told.plan.cohorts), len(summary_html(told).encode())
        print(f"{seed:3} {cohorts:3} cohorts, {len(told.plan.tasks):4} tasks: page of {size / 1000:4.0f} kB")


def report(seed: int, groups: int, seconds: float) -> SeasonReport:
    """The report of a random farm, with the reasons of each task, as the page tells them."""
    farm = read_farm(random_farm(seed, groups), TODAY)
    assert isinstance(farm, Farm), farm
    made, explainer = plan_to_explain(farm, TODAY, None, clock(seconds), out_of_time_for_choices=clock(2 * seconds))
    made = replace(made, whys=explainer.page(made.tasks, clock(seconds), False))
    return report_of(made, farm, cautions_of(made, farm))


def with_doses(told: SeasonReport) -> SeasonReport:
    """The same report with its planned doses and their reasons over and over, each with a uid and a day of its own."""
    doses = [task for task in told.plan.tasks if task.kind == "dose" and task.status == "planned"]
    tasks, whys = [], []
    for n in range(EVENTS):
        task = doses[n % len(doses)]
        why = told.why(task.uid)
        tasks.append(replace(task, uid=f"{task.uid}-{n}", day=task.day + timedelta(days=n % 7)))
        whys += [] if why is None else [replace(why, uid=f"{task.uid}-{n}")]
    return replace(told, plan=replace(told.plan, tasks=tuple(tasks), whys=tuple(whys)))


def seconds_to_write(told: SeasonReport) -> float:
    """How long the calendar takes from report to bytes."""
    start = time.perf_counter()
    calendar_ics(told)
    return time.perf_counter() - start


if __name__ == "__main__":
    main()
