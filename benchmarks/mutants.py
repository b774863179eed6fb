"""Mutation tests of rules, season and verify: how many small changes to their code does no test notice?

`python -m benchmarks.mutants --work DIR` copies the tree to DIR, looks which test reaches which line, draws a sample of
all mutants by a fixed seed and runs each, in the copy, against the tests that reach it, the quickest first. A mutant
that needs far more time or memory than its tests do counts as killed. What was found stands in DIR/found.json; a
further run takes up from there, and with `--again` runs the survivors once more. `--tests` names the tests to run.

`judged.toml` lists the mutants that no test can tell from the code, each with the reason.
"""

import argparse
import hashlib
import json
import os
import shutil
import subprocess
import sys
import time
import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from benchmarks.mutations import Mutant, mutants_of, mutated
from benchmarks.one_mutant import killer, warm_up

ROOT = Path(__file__).parent.parent
PACKAGES = ("rules", "season", "verify")
COPIED = ("scheduler", "tests", "benchmarks", "docs", "templates", "sample_data", "README.md", "pyproject.toml")
TESTS = tuple(f"tests/{name}" for name in (
    "rules", "season", "verify", "plan", "report", "outputs", "cli", "oracle", "properties", "outside", "faults",
    "test_samples.py"))  # fmt: skip
REACH = "reach.json"
FIRST_SECONDS, MOST_SECONDS = 3.0, 100.0
"""Tests that reach a mutant are run up to so many seconds of their plain time: the quickest, then of all others."""


def main() -> None:
    """Prints each survivor, then the figures."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--work", type=Path, required=True, help="a folder outside the tree")
    options.add_argument("--count", type=int, default=420)
    options.add_argument("--seed", type=int, default=6)
    options.add_argument("--again", action="store_true")
    options.add_argument("--quick", action="store_true", help="leave the slow tests out")
    options.add_argument("--tests", nargs="*", default=TESTS)
    options.add_argument("--reached", action="store_true", help="take what reaches what from the last run")
    chosen = options.parse_args()
    tree = copied(chosen.work / "tree")
    if chosen.reached:
        inside(tree, "pytest", "--collect-only", "-q", "-p", "no:cacheprovider", *chosen.tests)  # all is compiled once
    else:
        inside(tree, "benchmarks.reach", str(chosen.work / REACH), *chosen.tests)
    reach = json.loads((chosen.work / REACH).read_text())
    found = remembered(chosen.work / "found.json")
    begun = time.monotonic()
    warm_up(tree)
    sample = sample_of(tree, chosen.count, chosen.seed)
    for mutant in sample:
        if mutant.key not in found or (chosen.again and found[mutant.key] is None):
            found[mutant.key] = run(tree, mutant, reach, chosen.quick)
            (chosen.work / "found.json").write_text(json.dumps(found, indent=1))
            print(f"{'killed  ' if found[mutant.key] else 'SURVIVED'} {mutant.lines[0]:3} {mutant.key}", flush=True)
    say(sample, found, judged(), time.monotonic() - begun)


def copied(tree: Path) -> Path:
    """A fresh copy of what package and tests need."""
    shutil.rmtree(tree, ignore_errors=True)
    for name in COPIED:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, tree / name, ignore=shutil.ignore_patterns(".*"))
        else:
            shutil.copy2(source, tree / name)
    return tree


def inside(tree: Path, module: str, *arguments: str) -> None:
    """Runs a module in the copy, without a word."""
    environment = {**os.environ, "PYTHONPATH": str(tree)}
    subprocess.run([sys.executable, "-m", module, *arguments], cwd=tree, env=environment, stdout=subprocess.DEVNULL)


def remembered(file: Path) -> dict[str, str | None]:
    """By key of a mutant, the test that killed it, None for survivors."""
    found: dict[str, str | None] = json.loads(file.read_text()) if file.exists() else {}
    return found


def sample_of(tree: Path, count: int, seed: int, packages: Sequence[str] = PACKAGES) -> list[Mutant]:
    """So many of all mutants. Each draws its own lot: a change of the code leaves most of the sample as it was."""
    files = sorted(path for name in packages for path in (tree / "scheduler" / name).rglob("*.py"))
    every = [mutant for path in files if path.name != "__init__.py"
             for mutant in mutants_of(path.relative_to(tree).as_posix(), path.read_text(encoding="utf-8"))]  # fmt: skip
    lots = sorted(every, key=lambda mutant: hashlib.sha256(f"{seed} {mutant.key}".encode()).digest())
    drawn = {mutant.key for mutant in lots[:count]}
    return [mutant for mutant in every if mutant.key in drawn]


def run(tree: Path, mutant: Mutant, reach: dict[str, Any], is_quick: bool) -> str | None:
    """The test that noticed, or None."""
    path = tree / mutant.file
    text, stat = path.read_text(encoding="utf-8"), path.stat()
    quick, slow = reaching(mutant, reach)
    try:
        path.write_text(mutated(text, mutant.number), encoding="utf-8")
        return killer(tree, quick, reach["seconds"]) or killer(tree, [] if is_quick else slow, reach["seconds"])
    finally:
        path.write_text(text, encoding="utf-8")
        os.utime(path, (stat.st_atime, stat.st_mtime))


def reaching(mutant: Mutant, reach: dict[str, Any]) -> tuple[list[str], list[str]]:
    """The tests that reach the mutant: those that name its file, then the quickest; and the others.

    What only an import reaches is held to all tests of its file.
    """
    lines, seconds = reach["lines"].get(mutant.file, {}), reach["seconds"]
    first, last = mutant.lines
    tests = {test for line in range(first, last + 1) for test in lines.get(str(line), ())}
    tests = tests or {test for reached in lines.values() for test in reached}
    quick: list[str] = []
    slow: list[str] = []
    total = 0.0
    own = Path(mutant.file).stem
    for test in sorted(tests, key=lambda test: (own not in test.replace("-", "_"), seconds[test], test)):
        total += seconds[test]
        if total <= MOST_SECONDS:
            (quick if total <= FIRST_SECONDS else slow).append(test)
    return quick, slow


def judged() -> dict[str, str]:
    """By key, why a mutant is the same as the code to everybody who uses it."""
    rows = tomllib.loads((Path(__file__).parent / "judged.toml").read_text(encoding="utf-8")).get("same", ())
    return {f"{row['file']}: {row['before']} -> {row['after']}": row["why"] for row in rows}


def say(sample: Sequence[Mutant], found: dict[str, str | None], same: dict[str, str], seconds: float) -> None:
    """The survivors that nobody has judged, and the figures."""
    survived = [mutant.key for mutant in sample if found[mutant.key] is None]
    open_ones = [key for key in survived if key not in same]
    for key in open_ones:
        print(f"open: {key}")
    share = len(survived) / len(sample)
    print(f"{len(sample)} mutants, {len(sample) - len(survived)} killed, {len(survived)} survived ({share:.1%}), "
          f"of these {len(survived) - len(open_ones)} judged the same as the code; {seconds:.0f} s")  # fmt: skip


if __name__ == "__main__":
    main()
