"""How long a keeper waits, and how much memory it takes: each command as a process of its own, median of five.

`python benchmarks/whole_process.py` prints a table. Wanted: a plan of a sample farm within 1 s, help within 150 ms,
peak memory under 200 MB. These are aims of this program, without source; they hold for no machine in particular.
"""

import os
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

SAMPLES = Path(__file__).parent.parent / "sample_data"
TODAY = {"fellside": "2027-02-20", "lowland-organic": "2027-03-10", "southern": "2027-08-25"}
RUNS = 5
PLAN_SECONDS, HELP_SECONDS, MOST_MB = 1.0, 0.15, 200.0


@dataclass(frozen=True)
class Measured:
    """Seconds of wall clock, and peak resident memory in MB."""

    seconds: float
    megabytes: float


def run_once(words: Sequence[str]) -> Measured:
    """One run of the command; exit codes 0 and 1 are both work done. Stops at any other."""
    start = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, "-m", "scheduler", *words], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    _, status, usage = os.wait4(process.pid, 0)
    seconds = time.perf_counter() - start
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode not in (0, 1):
        raise SystemExit(f"season {' '.join(words)}: exit {process.returncode}")
    kilobytes = usage.ru_maxrss / 1024 if sys.platform == "darwin" else usage.ru_maxrss
    return Measured(seconds, kilobytes / 1024)


def median(words: Sequence[str]) -> Measured:
    """The median time of some runs after one to warm the disk, and the largest peak."""
    run_once(words)
    runs = [run_once(words) for _ in range(RUNS)]
    return Measured(statistics.median(run.seconds for run in runs), max(run.megabytes for run in runs))


def commands(out: Path) -> list[tuple[str, list[str], float | None]]:
    """What is measured: its name, its words, and the seconds wanted. Plans go where none of the sample farm stands."""
    rows: list[tuple[str, list[str], float | None]] = [("season --help", ["--help"], HELP_SECONDS)]
    for name, day in TODAY.items():
        rows.append((f"season check {name}", ["check", str(SAMPLES / name), "--today", day], None))
    for name, day in TODAY.items():
        words = ["plan", str(SAMPLES / name), "--today", day, "--out", str(out / name)]
        rows.append((f"season plan {name}", words, PLAN_SECONDS))
    return rows


def line(name: str, found: Measured, wanted: float | None) -> str:
    """One line of the table, with a mark where an aim is missed."""
    aim = "" if wanted is None else f"{wanted:.2f} s"
    missed = [word for word, over in (("slow", wanted is not None and found.seconds > wanted),
                                      ("large", found.megabytes > MOST_MB)) if over]  # fmt: skip
    return f"{name:30} {found.seconds:7.3f} s {aim:>8} {found.megabytes:7.1f} MB  {', '.join(missed)}".rstrip()


def main() -> None:
    """Measures everything and prints it."""
    print(f"{platform.platform()}, {os.cpu_count()} processors, Python {platform.python_version()}")
    print(f"median of {RUNS} runs each; want under {MOST_MB:.0f} MB")
    print(f"{'command':30} {'time':>9} {'want':>8} {'peak':>10}")
    with tempfile.TemporaryDirectory() as place:
        for name, words, wanted in commands(Path(place)):
            print(line(name, median(words), wanted), flush=True)


if __name__ == "__main__":
    main()
