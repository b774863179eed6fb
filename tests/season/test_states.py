"""The state of a day, and the runs that tile a season. Days are of May 2027; a dose is relied on for 10 days."""

from decimal import Decimal

import pytest

from scheduler.season import Dose, Doses, Run, Season, all_runs, spans_in_state, state_of
from scheduler.words import Span
from tests.plan.flock import dose, label, may, prevent, risk
from tests.season.hill import cohort, event, finding, lambs, rams, season

SHORT = {"fly": label(uses=(prevent(protects_days=(10, 15)), prevent(id="late", protects_days=(30, 40)),
                            prevent(id="ticks", targets=("ticks",))))}  # fmt: skip


def ewes(*events: object, **changed: object) -> Season:
    """The hill farm with flies from the 5th to the 30th."""
    return season(*events, **{"labels": SHORT, "risk": (risk(may(5), may(30)),), **changed})  # type: ignore[arg-type]


def told(of: Season, day: int, *doses: Dose) -> tuple[str, str]:
    """Level and state of strike for the ewes."""
    level, state = state_of(of, cohort(of, "Ewes/stay"), "blowfly-strike", may(day), doses)
    return f"{level.normalize():f}", state


@pytest.mark.parametrize(
    ("day", "expected"),
    [
        (4, ("0", "low")),
        (5, ("0.6", "covered")),
        (14, ("0.6", "covered")),
        (15, ("0.6", "fading")),
        (19, ("0.6", "fading")),
        (20, ("0.6", "exposed")),
        (31, ("0", "low")),
    ],
)
def test_a_day_is_low_covered_fading_or_exposed(day: int, expected: tuple[str, str]) -> None:
    of = ewes()
    assert told(of, day, dose(of, may(5))) == expected


def test_sheep_away_stand_at_level_0_whatever_was_found() -> None:
    of = ewes(event("away", may(10)), findings=(finding(2, may(9), group="Ewes", head=50),))
    assert [told(of, day) for day in (9, 10, 11)] == [("1", "exposed"), ("0", "away"), ("1", "exposed")]


def test_cover_goes_before_fading_in_either_order() -> None:
    of = ewes()
    fades, covers = dose(of, may(1)), dose(of, may(1), use="late")
    assert told(of, 12, fades, covers) == told(of, 12, covers, fades) == ("0.6", "covered")


def test_a_dose_for_another_target_or_one_that_gives_nothing_covers_no_day() -> None:
    of = ewes()
    assert told(of, 6, dose(of, may(5), use="ticks"), dose(of, may(5), origin="missed")) == ("0.6", "exposed")


def test_runs_tile_the_season_for_every_cohort() -> None:
    of = ewes()
    runs = [run for run in all_runs(of, Doses([dose(of, may(5))])) if run.cohort.id == "Ewes/stay"]
    states = ["low", "covered", "fading", "exposed", "low"]
    assert [(run.state, run.span.first) for run in runs] == list(zip(states, map(may, (1, 5, 15, 20, 31)), strict=True))
    assert [run.span.last for run in runs] == [*map(may, (4, 14, 19, 30)), of.span.last]


def exposed(of: Season) -> list[Run]:
    """The spans of exposed days of the farm without doses."""
    return spans_in_state(of, all_runs(of, Doses(())), "exposed")


def test_spans_join_over_levels_and_take_the_highest_of_them() -> None:
    of = ewes(groups=(lambs(),), risk=(risk(may(5), may(9), "0.4"), risk(may(10), may(12), "0.9"),
                                       risk(may(13), may(20)), risk(may(22), may(23)),
                                       risk(may(24), may(25), "0.7")))  # fmt: skip
    assert [(run.span, run.level) for run in exposed(of)] == [
        (Span(may(5), may(20)), Decimal("0.9")), (Span(may(22), may(25)), Decimal("0.7")),
    ]  # fmt: skip


def test_spans_of_two_cohorts_never_join() -> None:
    of = ewes(groups=(lambs(), rams()), risk=(risk(may(1), of_season_end := may(153)),))
    assert [(run.cohort.id, run.span) for run in exposed(of)] == [
        ("Lambs/stay", Span(may(1), of_season_end)), ("Rams/stay", Span(may(1), of_season_end)),
    ]  # fmt: skip


@pytest.mark.parametrize(("made_for", "first"), [(4, 5), (5, 5), (6, 6), (30, 30)])
def test_spans_begin_on_the_day_of_the_plan_at_the_earliest(made_for: int, first: int) -> None:
    of = ewes(groups=(lambs(),), made_for=may(made_for))
    assert [run.span for run in exposed(of)] == [Span(may(first), may(30))]


def test_spans_that_are_over_are_none() -> None:
    assert exposed(ewes(groups=(lambs(),), made_for=may(31))) == []
