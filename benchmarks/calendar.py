"""How long 2,000 events take to write: the calendar of a plan with so many tasks, median of five.

`python -m benchmarks.calendar` prints it. Wanted: under 0.5 s, an aim of this program, without source.
"""

import statistics
import time
from datetime import date
from pathlib import Path

from msgspec.structs import replace

from scheduler.cli.disk import read_folder
from scheduler.farm import Farm, read_farm
from scheduler.outputs import calendar_ics
from scheduler.plan import make_plan
from scheduler.report import SeasonReport, cautions_of, report_of

SAMPLE, TODAY = Path(__file__).parent.parent / "sample_data" / "fellside", date(2027, 2, 20)
EVENTS, RUNS, WANTED_SECONDS = 2000, 5, 0.5


def large_report() -> SeasonReport:
    """The sample farm's report with its tasks again and again, each with a uid of its own."""
    farm = read_farm(read_folder(SAMPLE), TODAY)
    assert isinstance(farm, Farm), farm
    plan = make_plan(farm, TODAY, None, lambda: False)
    tasks = plan.tasks
    many = tuple(replace(tasks[n % len(tasks)], uid=f"{n:036d}", repeat_of=None) for n in range(EVENTS))
    return replace(report_of(plan, farm, cautions_of(plan, farm)), plan=replace(plan, tasks=many))


def main() -> None:
    """Prints the seconds and the size."""
    report, seconds = large_report(), []
    for _ in range(RUNS):
        start = time.perf_counter()
        written = calendar_ics(report)
        seconds.append(time.perf_counter() - start)
    median = statistics.median(seconds)
    verdict = "within" if median <= WANTED_SECONDS else "over"
    print(f"{EVENTS} events, {len(written) / 1e6:.1f} MB: {median:.3f} s, {verdict} {WANTED_SECONDS} s")


if __name__ == "__main__":
    main()
