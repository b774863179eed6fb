"""Times planning again after one change, as a share of the first time, and holds it to the answer of a cold run.

`python -m benchmarks.again --farms 20 --groups 30`: on each farm of a fixed seed one sale three days later, one day
closed, one weighing. What the change does not touch is taken up from the first plan, in one process.
"""

import argparse
import time
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from statistics import median

from msgspec.structs import replace

from benchmarks.farms import random_farm
from benchmarks.planner import TODAY, clock, season_of
from scheduler import planner
from scheduler.farm import Farm
from scheduler.plan.settle import Question, Settled, answer, question_of
from scheduler.season import Season

LATER = timedelta(days=3)


def main() -> None:
    """Prints a line a farm and change, then the median share of each change."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--farms", type=int, default=20)
    options.add_argument("--groups", type=int, default=10)
    options.add_argument("--mobs", type=int, default=1)
    options.add_argument("--seconds", type=float, default=20, help="time for each planning")
    chosen = options.parse_args()
    shares: dict[str, list[float]] = {}
    for seed in range(chosen.farms):
        season = season_of(random_farm(seed, chosen.groups, mobs=chosen.mobs))
        memory = planner.Memory()
        before, _, first = asked(season, None, memory, chosen.seconds)
        for name, farm in changes(season.farm):
            changed = Season(farm, TODAY)
            _, warm, again = asked(changed, before, memory, chosen.seconds)
            _, cold, anew = asked(changed, None, planner.Memory(), chosen.seconds)
            same = [dose.key for dose in warm.doses] == [dose.key for dose in cold.doses]
            shares.setdefault(name, []).append(again / first)
            told = ("same" if same else "not the same") + ("" if warm.gap is None else ", not proved")
            print(f"{seed:3} {name:8} first {first:6.2f} s, again {again:6.2f} s, cold {anew:6.2f} s  {told}")
    for name, own in shares.items():
        print(f"{name}: median {median(own):.0%}, {sum(share < 0.2 for share in own)} of {len(own)} under a fifth")


def asked(
    season: Season, known: Question | None, memory: planner.Memory, seconds: float
) -> tuple[Question, Settled, float]:
    """The question, its answer, and the seconds that both took."""
    start = time.perf_counter()
    question = question_of(season, (), {}, known)
    settled = answer(question, clock(seconds), memory=memory)
    return question, settled, time.perf_counter() - start


def changes(farm: Farm) -> Iterator[tuple[str, Farm]]:
    """Name of the change, and the changed farm."""
    sale = farm.sales[len(farm.sales) // 2]
    later = tuple(replace(row, day=row.day + LATER) if row is sale else row for row in farm.sales)
    yield "sale", replace(farm, sales=later)
    closed = replace(farm.settings.closed[0], days=farm.settings.closed[0].days | {date(2027, 6, 9)})
    yield "closed", replace(farm, settings=replace(farm.settings, closed=(closed, *farm.settings.closed[1:])))
    group = farm.groups[0]
    heavier = replace(group, heaviest_kg=(group.heaviest_kg or Decimal(0)) + 1)
    yield "weighing", replace(farm, groups=(heavier, *farm.groups[1:]))


if __name__ == "__main__":
    main()
