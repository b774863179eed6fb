"""Cover and fading of one dose, and the level of a day, counted by hand. Days are of May 2027."""

from decimal import Decimal

import pytest

from scheduler.farm import Caution, RiskRow
from scheduler.season import planning_days
from scheduler.words import Span, Target, Where
from tests.plan.flock import ACT_LEVEL, dose, label, may, prevent, risk, settings
from tests.season.hill import cohort, event, finding, lambs, sale, season

SHORT = prevent(protects_days=(10, 15))


def risk_row(first: int, last: int, level: str, *groups: str, target: Target = "blowfly-strike") -> RiskRow:
    """A row of risk.csv."""
    return RiskRow(target=target, first=may(first), last=may(last), level=Decimal(level), groups=groups or None,
                   where=Where("risk.csv", 2))  # fmt: skip


@pytest.mark.parametrize(("caution", "days"), [("high", 42), ("middle", 49), ("low", 56)])
def test_days_relied_on(caution: Caution, days: int) -> None:
    assert planning_days(prevent(), caution) == days


def test_the_mean_is_rounded_down() -> None:
    assert planning_days(prevent(protects_days=(10, 15)), "middle") == 12


@pytest.mark.parametrize(
    ("works_after", "cover", "fading"),
    [(0, (1, 10), (11, 15)), (3, (4, 10), (11, 15)), (12, (13, 10), (13, 15)), (15, (16, 10), (16, 15))],
)
def test_cover_runs_from_working_to_the_last_day_relied_on(
    works_after: int, cover: tuple[int, int], fading: tuple[int, int]
) -> None:
    """Given on the 1st: 1 + 10 - 1 = 10 relied on, on to 1 + 15 - 1 = 15. Ends before it begins: empty."""
    of = season()
    given = of.cover(cohort(of, "Ewes/stay"), prevent(protects_days=(10, 15), works_after_days=works_after), may(1))
    assert (given.cover, given.fading) == (Span(*map(may, cover)), Span(*map(may, fading)))


@pytest.mark.parametrize(
    ("shorn", "cover_to", "fades_to", "cut"),
    [
        (1, 10, 15, False),
        (2, 1, 1, True),
        (10, 9, 9, True),
        (11, 10, 10, True),
        (15, 10, 14, True),
        (16, 10, 15, False),
    ],
)
def test_a_shearing_ends_cover_the_day_before(shorn: int, cover_to: int, fades_to: int, cut: bool) -> None:
    of = season(event("shearing", may(shorn)))
    use = prevent(protects_days=(10, 15), ends_at=("shearing",))
    given = of.cover(cohort(of, "Ewes/stay"), use, may(1))
    assert (given.cover.last, given.fading.last) == (may(cover_to), may(fades_to))
    assert given.cut_by == (may(shorn) if cut else None)


def test_a_shearing_of_others_or_a_use_that_outlasts_it_ends_nothing() -> None:
    of = season(event("shearing", may(5), groups="Rams"), event("shearing", may(5), groups="Lambs"))
    use = prevent(protects_days=(10, 15), ends_at=("shearing",))
    assert of.cover(cohort(of, "Ewes/stay"), use, may(1)).cover.last == may(10)
    assert of.cover(cohort(of, "Lambs/stay"), SHORT, may(1)).cover.last == may(10)


def level(of_rows: tuple[RiskRow, ...], day: int, who: str = "Ewes/stay") -> Decimal:
    """The level of strike for a cohort on a day of May."""
    of = season(risk=of_rows)
    return of.base_level(cohort(of, who), "blowfly-strike", may(day))


@pytest.mark.parametrize(("day", "expected"), [(4, "0"), (5, "0.4"), (7, "0.4"), (8, "0.7"), (9, "0.7"), (10, "0")])
def test_of_overlapping_rows_the_highest_counts(day: int, expected: str) -> None:
    rows = (risk_row(5, 9, "0.4"), risk_row(8, 9, "0.7"), risk_row(9, 9, "0.1"))
    assert level(rows, day) == Decimal(expected)


def test_a_row_for_named_groups_is_theirs_alone() -> None:
    rows = (risk_row(5, 9, "0.4"), risk_row(5, 9, "0.7", "Lambs"))
    assert (level(rows, 5), level(rows, 5, "Lambs/stay")) == (Decimal("0.4"), Decimal("0.7"))


@pytest.mark.parametrize(("written", "at_risk"), [("0.294", False), ("0.295", True), ("0.30", True), ("0.29", False)])
def test_the_act_level_is_met_at_two_decimals_half_up(written: str, at_risk: bool) -> None:
    of = season(risk=(risk_row(5, 9, written),))
    assert of.is_at_risk(cohort(of, "Ewes/stay"), "blowfly-strike", may(5)) == at_risk


def test_sheep_away_are_never_at_risk_however_low_the_act_level() -> None:
    low = settings(act_level={**ACT_LEVEL, "blowfly-strike": Decimal("0.004")})
    of = season(event("away", may(5)), settings=low)
    at_risk = [of.is_at_risk(cohort(of, "Ewes/stay"), "blowfly-strike", may(day)) for day in (4, 5, 6)]
    assert at_risk == [True, False, True]


@pytest.mark.parametrize(("day", "expected"), [(5, "0.6"), (6, "0"), (7, "0"), (8, "0.6")])
def test_housed_sheep_are_out_of_reach_of_flies(day: int, expected: str) -> None:
    of = season(event("housing", may(6)), event("turnout", may(8)), risk=(risk(may(1), may(30)),))
    assert of.base_level(cohort(of, "Ewes/stay"), "blowfly-strike", may(day)) == Decimal(expected)


def test_lice_reach_housed_sheep() -> None:
    of = season(event("housing", may(6)), risk=(risk_row(1, 30, "0.6", target="lice"),),
                settings=settings(targets=("lice",)))  # fmt: skip
    assert of.base_level(cohort(of, "Ewes/stay"), "lice", may(7)) == Decimal("0.6")


@pytest.mark.parametrize(("day", "expected"), [(19, "0.6"), (20, "0")])
def test_sheep_that_are_gone_are_at_no_level(day: int, expected: str) -> None:
    of = season(groups=(lambs(),), sales=(sale("Mart", 40, may(20)),), risk=(risk(may(1), may(30)),))
    assert of.base_level(cohort(of, "Lambs/Mart"), "blowfly-strike", may(day)) == Decimal(expected)


@pytest.mark.parametrize(
    ("works_after", "day", "stands"), [(0, 4, True), (0, 5, False), (0, 6, False), (2, 6, True), (2, 7, False)]
)
def test_a_treatment_ends_a_finding_once_it_works(works_after: int, day: int, stands: bool) -> None:
    cure = prevent(id="struck", purpose="treat", protects_days=(0, 0), works_after_days=works_after)
    of = season(findings=(finding(2, may(3)),), made_for=may(3), labels={"fly": label(uses=(cure,))})
    found = cohort(of, "Lambs/found-2")
    treated = dose(of, may(5), use="struck", cohort=found)
    assert bool(of.findings.standing(found, "blowfly-strike", may(day), [treated])) == stands


@pytest.mark.parametrize(("day", "stands"), [(2, False), (3, True), (7, True), (8, False)])
def test_a_finding_stands_from_its_day_until_it_is_cleared(day: int, stands: bool) -> None:
    of = season(findings=(finding(2, may(3), cleared=may(8)),), made_for=may(3))
    assert bool(of.findings.standing(cohort(of, "Lambs/found-2"), "blowfly-strike", may(day), ())) == stands
    assert not of.findings.standing(cohort(of, "Lambs/stay"), "blowfly-strike", may(day), ())


def test_lice_concern_every_group_of_the_mob() -> None:
    of = season(findings=(finding(2, may(3), what="lice", head=3),), made_for=may(3))
    standing = {one.id for one in of.cohorts if of.findings.standing(one, "lice", may(4), ())}
    assert standing == {"Ewes/stay", "Lambs/stay"}
    assert "lice" in of.targets
