"""The same farm planned again gives the same plan: anywhere, at once, and beside the plan that stands already."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from scheduler.plan import EarlierPlan, read_earlier
from tests.oracle.farms import FAMILIES, random_farm, write_farm
from tests.properties.planning import SMALL_SEEDS, plan_of, text_of

WRITTEN = ("calendar.ics", "plan.json", "summary.html", "tasks.csv")
ELSEWHERE = (
    {"PYTHONHASHSEED": "1", "TZ": "Pacific/Auckland", "LC_ALL": "C"},
    {"PYTHONHASHSEED": "4711", "TZ": "America/Los_Angeles", "LC_ALL": "tr_TR.UTF-8"},
)


def run(farm: Path, out: Path, today: str, **environment: str) -> dict[str, bytes]:
    """The files that the command writes in another environment."""
    command = [sys.executable, "-m", "scheduler", "plan", str(farm), "--out", str(out), "--today", today]
    done = subprocess.run(command, capture_output=True, text=True, env={**os.environ, **environment})
    assert done.returncode in {0, 1}, done.stderr
    return {name: (out / name).read_bytes() for name in WRITTEN}


def test_hash_seed_time_zone_and_locale_change_no_byte(tmp_path: Path) -> None:
    drawn = random_farm(5, 2, "mobs")
    write_farm(drawn, tmp_path / "farm")
    today = drawn.today.isoformat()
    here = run(tmp_path / "farm", tmp_path / "here", today)
    for number, environment in enumerate(ELSEWHERE):
        assert run(tmp_path / "farm", tmp_path / str(number), today, **environment) == here


def test_planning_twice_into_the_same_folder_changes_no_byte(tmp_path: Path) -> None:
    drawn = random_farm(9, 2, "lambs")
    write_farm(drawn, tmp_path / "farm")
    first, second = (run(tmp_path / "farm", tmp_path / "plan", drawn.today.isoformat()) for _ in range(2))
    assert second == first


@pytest.mark.parametrize("family", FAMILIES)
def test_beside_its_own_plan_a_farm_keeps_every_task_as_it_stands(family: str) -> None:
    drawn = random_farm(SMALL_SEEDS[family], 2, family)
    first = plan_of(drawn.files, drawn.today)
    earlier = read_earlier(text_of(first).encode())
    assert isinstance(earlier, EarlierPlan)
    second = plan_of(drawn.files, drawn.today, earlier)
    assert [(task.uid, task.sequence, task.day) for task in second.tasks] == [
        (task.uid, task.sequence, task.day) for task in first.tasks
    ]
    assert text_of(second) == text_of(first)
