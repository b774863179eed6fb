"""Which test reaches which line of rules, season and verify, and how long it takes: one run with coverage by test.

`python -m benchmarks.reach FILE TESTS...`, in the tree that is looked into; used by `benchmarks.mutants`.
"""

import json
import sys
import time
from pathlib import Path
from typing import Any

import coverage
import pytest

PACKAGES = ("scheduler/rules", "scheduler/season", "scheduler/verify")


class Watch:
    """A plugin that opens a context of coverage for each test, and keeps the time of the processor that it takes."""

    def __init__(self, seen: coverage.Coverage) -> None:
        self.seen = seen
        self.seconds: dict[str, float] = {}
        self.failed: set[str] = set()
        self.begun = 0.0

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        """Lines from here on are reached by this test."""
        self.seen.switch_context(nodeid)
        self.begun = time.process_time()

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Time of the processor since the test began: of the last report that of set-up, call and end."""
        self.seconds[report.nodeid] = time.process_time() - self.begun
        if not report.passed:
            self.failed.add(report.nodeid)


def main() -> None:
    """Writes {"seconds": {test: s}, "lines": {file: {line: [tests]}}}; tests that fail or are skipped are left out."""
    out, *tests = sys.argv[1:]
    seen = coverage.Coverage(data_file=None, source=list(PACKAGES), config_file=False)
    watch = Watch(seen)
    seen.start()
    pytest.main(["-q", "-p", "no:cacheprovider", *tests], plugins=[watch])
    seen.stop()
    Path(out).write_text(json.dumps(reached(seen, watch)))


def reached(seen: coverage.Coverage, watch: Watch) -> dict[str, Any]:
    """What `main` writes."""
    data = seen.get_data()
    passed = {test: took for test, took in watch.seconds.items() if test not in watch.failed}
    lines = {
        str(Path(file).relative_to(Path.cwd())): {
            str(line): [test for test in tests if test in passed]
            for line, tests in data.contexts_by_lineno(file).items()
        }
        for file in data.measured_files()
    }
    return {"seconds": passed, "lines": lines}


if __name__ == "__main__":
    main()
