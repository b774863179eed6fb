"""Plans of the sample farms, made once by the command as a keeper runs it."""

import json
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

SAMPLES = Path(__file__).parent.parent.parent / "sample_data"
TODAY = {"fellside": "2027-02-20", "lowland-organic": "2027-03-10", "southern": "2027-08-25"}


@dataclass(frozen=True)
class Planned:
    """What `season plan` wrote: plan.json as it reads, and calendar.ics as it stands on the disk."""

    plan: dict[str, Any]
    calendar: bytes


def run_plan(farm: Path, out: Path, today: str) -> Planned:
    """Plans a farm folder; 0 and 1 (exposed days, or a conflict) are both a plan."""
    found = _planned_or_said(farm, out, today)
    assert isinstance(found, Planned), found
    return found


def planned(name: str) -> Planned:
    """The plan of a sample farm on the day that its README names."""
    found = _sample(name)
    assert isinstance(found, Planned), found
    return found


def _planned_or_said(farm: Path, out: Path, today: str) -> Planned | str:
    """The plan, or what the command said where it made none."""
    command = [sys.executable, "-m", "scheduler", "plan", str(farm), "--out", str(out), "--today", today]
    done = subprocess.run(command, capture_output=True, text=True)
    if done.returncode not in {0, 1} or "Traceback" in done.stderr:
        return done.stderr
    return Planned(json.loads((out / "plan.json").read_bytes()), (out / "calendar.ics").read_bytes())


@cache
def _sample(name: str) -> Planned | str:
    with tempfile.TemporaryDirectory() as folder:
        return _planned_or_said(SAMPLES / name, Path(folder) / "plan", TODAY[name])
