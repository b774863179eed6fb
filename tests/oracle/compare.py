"""Compare a plan.json of the product with the oracle.

`python -m tests.oracle.compare --seeds 0:50 --family all` plans random farms of every family (or of one) with the
product and prints the differences; --size 1 to 3 (1 adds brute force: the one answer after ties), --keep DIR leaves
the farms there.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

from tests.oracle.brute import brute, is_irredundant, least_list
from tests.oracle.compare_record import record_differs
from tests.oracle.compare_tasks import days_differ, said, tasks_differ
from tests.oracle.duties import Duties
from tests.oracle.farms import FAMILIES, random_farm, write_farm
from tests.oracle.judge import judge, score
from tests.oracle.milp import Answer, solve
from tests.oracle.world import Dose, World, read_world

Plan = dict[str, Any]


def planned(plan: Plan, duties: Duties) -> list[Dose]:
    """The planned doses of a plan.json."""
    tasks = [one for one in plan["tasks"] if one["kind"] == "dose"]
    dates = {one["uid"]: date.fromisoformat(one["date"]) for one in tasks}
    doses = []
    for task in tasks:
        if task["status"] == "planned":
            first = None if task["repeat_of"] is None else dates.get(task["repeat_of"], date.min)
            bare = Dose(dates[task["uid"]], task["cohort"], task["label"], task["use"], first)
            doses.append(Dose(*bare.key, first, duties.origin_of(bare)))
    return doses


def _cohorts(world: World, plan: Plan) -> Iterator[str]:
    theirs = {one["id"]: one for one in plan["cohorts"]}
    yield from said("cohorts", sorted(theirs), sorted(world.cohorts))
    for name in theirs.keys() & world.cohorts.keys():
        own, leaves = world.cohorts[name], world.leaves(world.cohorts[name])
        ours = {
            "group": own.group.name,
            "kind": own.group.kind,
            "head": own.head,
            "leaves": leaves.isoformat() if leaves else None,
        }
        ours["sale"] = own.sale.name if own.sale else None
        for key, value in ours.items():
            yield from said(f"cohort {name} {key}", theirs[name][key], value)


def _optimum(world: World, plan: Plan, doses: list[Dose], answer: Answer) -> Iterator[str]:
    best, theirs, own = answer.score, plan["score"], score(world, doses)
    ours = {"exposed_sheep_days": own.exposed, "money_minor": own.money}
    ours |= {"handlings": own.handlings, "gathers": own.gathers}
    for key, value in ours.items():
        yield from said(f"score.{key} of its own doses", theirs[key], value)
    if plan["status"] == "proved" and answer.proved:
        yield from said("least (exposed, money)", own.stages[:2], best.stages[:2])
        if own.stages[:2] == best.stages[:2]:
            yield from said("at equal exposure and money, (paid gathers, handlings)", own.stages[2:], best.stages[2:])
    elif answer.proved:
        if own.stages[:2] < best.stages[:2]:
            yield f"better than the optimum: found {own.stages}, ours {best.stages}"
        gap = plan["gap"]
        if gap and own.exposed - gap["exposed_sheep_days"] > best.exposed:
            yield f"gap too small: found {own.exposed} less {gap['exposed_sheep_days']}, ours {best.exposed}"
    elif plan["status"] == "proved" and own.stages[:2] > best.stages[:2]:
        yield f"proved, yet worse than a known plan: found {own.stages}, ours {best.stages}"


def _duties(plan: Plan, doses: list[Dose], duties: Duties) -> Iterator[str]:
    held = {(dose.key, dose.repeat_of) for dose in doses}
    for choices in duties.choices:
        ways = [{(dose.key, dose.repeat_of) for dose in course.doses} for course in choices]
        if not any(way <= held for way in ways):
            one = choices[0]
            yield f"no way taken of {one.origin} {one.cohort} {one.label} {one.use} {one.first}"
    stops = [
        one
        for one in plan["conflicts"]
        if one["severity"] == "stop" and (one["where"] or {}).get("file") == "wishes.csv"
    ]
    theirs = sorted({(one["where"]["row"], one["cohort"]) for one in stops})
    yield from said("wishes refused (row, cohort)", theirs, sorted(duties.refused))
    for (row, cohort), breaches in duties.refused.items():
        slugs = {one["rule"] for one in stops if (one["where"]["row"], one["cohort"]) == (row, cohort)}
        ours = {one.slug for one in breaches} - {"window"}
        if slugs and ours and not slugs & ours:
            yield f"wish row {row} {cohort}: found refused by {sorted(slugs)}, ours {sorted(ours)}"


def compare(folder: Path, plan: Plan, today: date, tiny: bool = False) -> list[str]:
    """Differences between a plan.json of the product and the oracle's reckoning of the same folder."""
    world = read_world(folder, today)
    answer = solve(world)
    if answer is None:
        return ["the oracle found no plan in its time"]
    doses = planned(plan, answer.duties)
    out = list(_cohorts(world, plan))
    if out:
        return out
    strange = [one for one in doses if one.cohort not in world.cohorts or one.repeat_of == date.min]
    if strange:
        return [*out, f"doses of no cohort, or repeats of no dose: {strange}"]
    out += [
        f"breaks {one.slug}: {' '.join(map(str, one.dose.key))} against {one.against}" for one in judge(world, doses)
    ]
    out += list(_duties(plan, doses, answer.duties))
    out += list(record_differs(world, plan, answer.duties))
    out += list(_optimum(world, plan, doses, answer))
    if plan["status"] == "proved" and not is_irredundant(world, doses):
        out.append("a dose could be left out")
    out += list(tasks_differ(world, plan, doses))
    out += list(days_differ(world, plan, doses))
    return out + (list(_ties(world, doses)) if tiny and not out else [])


def _ties(world: World, doses: list[Dose]) -> Iterator[str]:
    try:
        best = brute(world)
    except ValueError:
        return
    yield from said("least list of doses", least_list(tuple(doses)), least_list(best.doses))


def run(family: str, seed: int, size: int, place: Path) -> list[str]:
    """Write one farm, plan it with the product, and compare."""
    farm = random_farm(seed, size, family)
    write_farm(farm, place / "farm")
    command = [
        sys.executable,
        "-m",
        "scheduler",
        "plan",
        str(place / "farm"),
        "--out",
        str(place / "plan"),
        "--today",
        farm.today.isoformat(),
    ]
    done = subprocess.run([*command, "--json"], capture_output=True, text=True, check=False)
    (place / "today.txt").write_text(farm.today.isoformat(), encoding="utf-8")
    if done.returncode not in (0, 1):
        return [f"exit {done.returncode}: {done.stderr.strip()[-1500:]}"]
    try:
        plan = json.loads(done.stdout)
    except json.JSONDecodeError:
        return [f"stdout is no JSON: {done.stdout[:200]!r} {done.stderr[-500:]}"]
    bad = plan["score"]["exposed_sheep_days"] > 0 or any(one["severity"] == "stop" for one in plan["conflicts"])
    return [*said("exit code", done.returncode, int(bad)), *compare(place / "farm", plan, farm.today, tiny=size == 1)]


def main() -> int:
    """Compare many farms; 1 where any differs."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", default="0:10", help="from:to, the last not included")
    parser.add_argument("--family", default="all", choices=["all", *FAMILIES])
    parser.add_argument("--size", type=int, default=2, choices=[1, 2, 3])
    parser.add_argument("--keep", type=Path, default=None, help="leave the farms in this folder")
    asked = parser.parse_args()
    first, last = (int(one) for one in asked.seeds.split(":"))
    wrong = count = 0
    for family in FAMILIES if asked.family == "all" else [asked.family]:
        for seed in range(first, last):
            with tempfile.TemporaryDirectory() as temporary:
                place = Path(temporary) if asked.keep is None else asked.keep / f"{family}-{asked.size}-{seed}"
                place.mkdir(parents=True, exist_ok=True)
                found = run(family, seed, asked.size, place)
            count, wrong = count + 1, wrong + bool(found)
            for line in found:
                print(f"{family} size {asked.size} seed {seed}: {line}", flush=True)
    print(f"{count} farms, {wrong} differ")
    return int(wrong > 0)


if __name__ == "__main__":
    sys.exit(main())
