"""The earlier plan is kept where it still is of the best, however little work is left to decide between equals."""

import pytest
from msgspec.structs import replace

from scheduler.planner import Cohort, Solved, settling, solve
from tests.planner.tiny import Mix, tiny

SEEDS = 300


def never() -> bool:
    """A clock that does not run out."""
    return False


def planned_so(cohort: Cohort, chosen: tuple[int, ...]) -> Cohort:
    """The cohort with these of its courses in the earlier plan."""
    doses = [dose for i in chosen for dose in cohort.courses[i].doses]
    series = range(len(cohort.earlier))
    return replace(cohort, earlier=tuple(tuple(sorted(d.day for d in doses if d.series == s)) for s in series))


def test_what_was_planned_stays_where_nothing_changed(monkeypatch: pytest.MonkeyPatch) -> None:
    for seed in range(SEEDS):
        problem = tiny(seed, Mix(courses=9))
        first = solve(problem, never)
        if not isinstance(first, Solved):
            continue
        pairs = zip(problem.cohorts, first.chosen, strict=True)
        again = replace(problem, cohorts=tuple(planned_so(cohort, chosen) for cohort, chosen in pairs))
        with monkeypatch.context() as patch:
            patch.setattr(settling, "TIE_STATES", 0)
            second = solve(again, never)
        assert isinstance(second, Solved), seed
        assert second.cost == replace(first.cost, moved=0), seed
