"""How long a keeper waits, and how much memory it takes: each command as a process of its own, median of five.

`python benchmarks/whole_process.py` prints a table. Modules are compiled beforehand, as they are once installed.
Wanted: a plan of a sample farm within 1 s, help within 150 ms, thirty years of weather, seen or planned on, within
1.5 s, peak memory under 200 MB. These are aims of this program, without source; they hold for no machine in particular.
"""

import math
import os
import platform
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

SAMPLES = Path(__file__).parent.parent / "sample_data"
TODAY = {"fellside": "2027-02-20", "lowland-organic": "2027-03-10", "southern": "2027-08-25"}
RUNS = 5
PLAN_SECONDS, HELP_SECONDS, WEATHER_SECONDS, MOST_MB = 1.0, 0.15, 1.5, 200.0


@dataclass(frozen=True)
class Measured:
    """Seconds of wall clock, and peak resident memory in MB."""

    seconds: float
    megabytes: float


def run_once(words: Sequence[str], compiled: Path) -> Measured:
    """One run of the command; exit codes 0 and 1 are both work done. Stops at any other."""
    settings = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    settings["PYTHONPYCACHEPREFIX"] = str(compiled)
    start = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, "-m", "scheduler", *words],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        env=settings,
    )
    _, status, usage = os.wait4(process.pid, 0)
    seconds = time.perf_counter() - start
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode not in (0, 1):
        raise SystemExit(f"season {' '.join(words)}: exit {process.returncode}")
    kilobytes = usage.ru_maxrss / 1024 if sys.platform == "darwin" else usage.ru_maxrss
    return Measured(seconds, kilobytes / 1024)


def median(words: Sequence[str], compiled: Path) -> Measured:
    """The median time of some runs after one to compile and to warm the disk, and the largest peak."""
    run_once(words, compiled)
    runs = [run_once(words, compiled) for _ in range(RUNS)]
    return Measured(statistics.median(run.seconds for run in runs), max(run.megabytes for run in runs))


def commands(out: Path) -> list[tuple[str, list[str], float | None]]:
    """What is measured: its name, its words, and the seconds wanted. Plans go where none of the sample farm stands."""
    rows: list[tuple[str, list[str], float | None]] = [("season --help", ["--help"], HELP_SECONDS)]
    for name, day in TODAY.items():
        rows.append((f"season check {name}", ["check", str(SAMPLES / name), "--today", day], None))
    for name, day in TODAY.items():
        words = ["plan", str(SAMPLES / name), "--today", day, "--out", str(out / name)]
        rows.append((f"season plan {name}", words, PLAN_SECONDS))
    for name, farm, day in (("southern", out / "large", "2027-08-25"), ("new", out / "small", "2026-12-01")):
        if name in TODAY:
            shutil.copytree(SAMPLES / name, farm)
        else:
            run_once(["new", str(farm), "--today", day], out / "compiled")
        give_weather(farm, "%d/%m/%Y" if name in TODAY else "%Y-%m-%d")
        words = [str(farm), "--today", day]
        rows.append((f"season risk {name}, 30 years", ["risk", *words], WEATHER_SECONDS))
        rows.append(
            (
                f"season plan {name}, 30 years",
                ["plan", *words, "--out", str(out / f"{farm.name}-plan")],
                WEATHER_SECONDS,
            )
        )
    return rows


def give_weather(folder: Path, pattern: str) -> None:
    """Gives a farm thirty invented years of daily weather, its dates so written, in the place of its own levels."""
    for name in ("risk.csv", "normals.csv"):
        (folder / name).unlink(missing_ok=True)
    lines = ["date,tmin,tmax"]
    for day in range(date(1997, 7, 1).toordinal(), date(2027, 7, 1).toordinal()):
        mean = 13 + 6 * math.cos(2 * math.pi * (day - 20) / 365.25) + 3 * math.sin(day * 0.7)
        lines.append(f"{date.fromordinal(day):{pattern}},{mean - 6:.1f},{mean + 6:.1f}")
    (folder / "weather.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")


def line(name: str, found: Measured, wanted: float | None) -> str:
    """One line of the table, with a mark where an aim is missed."""
    aim = "" if wanted is None else f"{wanted:.2f} s"
    missed = [word for word, over in (("slow", wanted is not None and found.seconds > wanted),
                                      ("large", found.megabytes > MOST_MB)) if over]  # fmt: skip
    return f"{name:33} {found.seconds:7.3f} s {aim:>8} {found.megabytes:7.1f} MB  {', '.join(missed)}".rstrip()


def main() -> None:
    """Measures everything and prints it."""
    print(f"{platform.platform()}, {os.cpu_count()} processors, Python {platform.python_version()}")
    print(f"median of {RUNS} runs each; want under {MOST_MB:.0f} MB")
    print(f"{'command':33} {'time':>9} {'want':>8} {'peak':>10}")
    with tempfile.TemporaryDirectory() as place:
        for name, words, wanted in commands(Path(place)):
            print(line(name, median(words, Path(place) / "compiled"), wanted), flush=True)


if __name__ == "__main__":
    main()
