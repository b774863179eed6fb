"""Runs chosen tests on the code as it stands, in a process forked from one that has the slow libraries at hand."""

import os
import resource
import sys
from collections.abc import Mapping, Sequence
from importlib import import_module
from pathlib import Path

import pytest

LIBRARIES = (
    "hypothesis", "hypothesis.strategies", "numpy", "highspy", "icalendar", "jinja2", "click", "tomlkit", "pycountry",
    "dateutil.rrule", "python_calamine", "jsonschema", "xlsxwriter", "scheduler.planner", "scheduler.risk",
)  # fmt: skip
MOST_BYTES = 6 * 2**30
START_SECONDS, TIMES = 20.0, 5.0
"""Time of the processor allowed: to begin with, and so many times what the tests took before."""


class _Chosen:
    """A plugin: runs the chosen tests alone, in their order, and tells the first that fails."""

    def __init__(self, tests: Sequence[str], tell: int) -> None:
        self.order = {test: place for place, test in enumerate(tests)}
        self.tell = tell

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = sorted(
            (item for item in items if item.nodeid in self.order), key=lambda item: self.order[item.nodeid]
        )

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            os.write(self.tell, report.nodeid.encode())


def warm_up(tree: Path) -> None:
    """Loads, once for all forked processes, what the mutated packages rest on and others' libraries."""
    sys.path.insert(0, str(tree))
    for name in LIBRARIES:
        import_module(name)


def killer(tree: Path, tests: Sequence[str], seconds: Mapping[str, float]) -> str | None:
    """The test that fails in the tree, or what else went wrong; None where all pass."""
    if not tests:
        return None
    heard, tell = os.pipe()
    child = os.fork()
    if child == 0:
        _run(tree, tests, tell, START_SECONDS + TIMES * sum(seconds[test] for test in tests))
    os.close(tell)
    with os.fdopen(heard) as pipe:
        failed = pipe.read()
    _, status = os.waitpid(child, 0)
    code = os.waitstatus_to_exitcode(status)
    if code == pytest.ExitCode.OK:
        return None
    if code == pytest.ExitCode.TESTS_FAILED and failed:
        return failed
    if code in (pytest.ExitCode.USAGE_ERROR, pytest.ExitCode.NO_TESTS_COLLECTED):
        raise RuntimeError(f"pytest found no tests of {tests[:3]}")
    return "no time or memory left" if code < 0 else "the tests do not begin"


def _run(tree: Path, tests: Sequence[str], tell: int, most_seconds: float) -> None:
    """In the child: never comes back."""
    code = int(pytest.ExitCode.INTERNAL_ERROR)
    try:
        resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))
        resource.setrlimit(resource.RLIMIT_CPU, (int(most_seconds), int(most_seconds)))
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        os.chdir(tree)
        sys.dont_write_bytecode = True
        _as_in_ci()
        files = list(dict.fromkeys(test.partition("::")[0] for test in tests))
        plugin = _Chosen(tests, tell)
        code = int(pytest.main(["-x", "-q", "-p", "no:cacheprovider", "--tb=no", *files], plugins=[plugin]))
    finally:
        os._exit(code)


def _as_in_ci() -> None:
    """Random examples are the same in every run, and none is remembered from one mutant to the next."""
    from hypothesis import settings

    settings.register_profile("mutants", database=None, derandomize=True, deadline=None)
    settings.load_profile("mutants")
