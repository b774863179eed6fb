"""The judge's sums, worked by hand.

An ml costs 33.35 / 1000 = 3.335 p (the larger pack is dearer); a minute of work 1250 / 60 = 20.833 p.
"""

from datetime import date
from decimal import Decimal

import pytest
from msgspec.structs import replace

from scheduler.farm import Mob
from scheduler.labels import Band
from scheduler.season import Doses
from scheduler.verify import dose_money, exposed_sheep_days, gather_money, gather_of, sums_of
from tests.plan.flock import BEFORE, may, prevent, row
from tests.season.hill import event
from tests.verify.farm import FLY, given, season, working


def test_a_dose_is_medicine_and_handling_rounded_once() -> None:
    """Ewes: 375 ml, 1250.625 p, 20 min, 416.667 p: 1667.29. Lambs: 120 ml, 400.2 p, 16 min, 333.333 p: 733.53."""
    of = season()
    assert dose_money(of, given(of, 5)) == 1667
    assert dose_money(of, given(of, 5, "Lambs/stay")) == 734


def test_half_a_penny_is_rounded_up() -> None:
    """75 min at 20.8333 p are 1562.5 p."""
    assert gather_money(season(), "Hill") == 1563


def test_a_mob_of_its_own_minutes_and_people() -> None:
    """30 min of 3 people at 20.8333 p are 1875 p."""
    of = season(mobs=(Mob(name="Hill", gather_minutes=Decimal(30), people=3),))
    assert gather_money(of, "Hill") == 1875
    assert gather_money(of, "Hill weaned") == 1875


def test_minutes_of_the_farm_where_the_use_states_none() -> None:
    """500 ml (10 ml a head) are 1667.5 p, 25 min are 520.833 p: 2188.33."""
    plain = prevent(bands=(Band(ml=Decimal(10)),), minutes_per_head=None)
    of = season(labels={"fly": replace(FLY, uses=(plain,))})
    assert of.settings.minutes_per_head == Decimal("0.5")
    assert dose_money(of, given(of, 5)) == 2188


def test_ewes_and_lambs_of_one_mob_share_a_gather() -> None:
    of = season()
    sums = sums_of(of, Doses([given(of, 5), given(of, 5, "Lambs/stay")]))
    assert (sums.money_minor, sums.gathers, sums.paid_gathers, sums.handlings) == (1667 + 734 + 1563, 1, 1, 2)


def test_two_days_are_two_gathers() -> None:
    of = season()
    sums = sums_of(of, Doses([given(of, 5), given(of, 6, "Lambs/stay")]))
    assert (sums.money_minor, sums.gathers, sums.handlings) == (1667 + 734 + 2 * 1563, 2, 2)


def test_a_gather_at_a_crutching_is_free_and_still_counted() -> None:
    of = season(events=(event("crutching", may(5), groups="Lambs"),))
    sums = sums_of(of, Doses([given(of, 5)]))
    assert (sums.money_minor, sums.gathers, sums.paid_gathers) == (1667, 1, 0)


def test_two_doses_of_a_cohort_on_a_day_are_one_handling() -> None:
    of = season()
    sums = sums_of(of, Doses([given(of, 5), given(of, 5, use="struck")]))
    assert (sums.gathers, sums.handlings) == (1, 1)


def test_lambs_weaned_are_gathered_apart() -> None:
    of = season(events=(event("weaning", may(4), groups="Lambs"),))
    mobs = [gather_of(of, given(of, 5, who).cohort, may(5))[0] for who in ("Ewes/stay", "Lambs/stay")]
    assert mobs == ["Hill", "Hill weaned"]


def test_what_was_given_costs_nothing_more() -> None:
    of = season(made_for=may(6), record=(row(may(5)),))
    sums = sums_of(of, of.record)
    assert (sums.money_minor, sums.gathers, sums.handlings) == (0, 0, 0)


def test_a_dose_whose_ml_a_vet_must_say_costs_the_work_alone() -> None:
    """20 min at 20.8333 p are 416.67 p; the ewes weigh 70 kg, and the label ends at 60."""
    light = prevent(bands=(Band(upto_kg=Decimal(60), ml=Decimal(5)),), minutes_per_head=Decimal("0.4"))
    of = season(labels={"fly": replace(FLY, uses=(light,))})
    assert dose_money(of, given(of, 5)) == 417


def test_a_currency_without_pence() -> None:
    """375 ml at 33.35 / 1000 are 12.5 yen, 20 min at 12.5 an hour are 4.2: 16.67."""
    of = season(settings=replace(working(), currency="JPY"))
    assert dose_money(of, given(of, 5)) == 17


@pytest.mark.parametrize(
    ("days", "made_for", "exposed"),
    [
        ((), BEFORE, 26 * 90),
        ((5,), BEFORE, 26 * 40 + 12 * 50),
        ((5, 17), BEFORE, 26 * 40),
        ((6,), BEFORE, 26 * 40 + (1 + 11) * 50),
        ((), may(29), 2 * 90),
        ((), may(31), 0),
    ],
)
def test_exposed_sheep_days(days: tuple[int, ...], made_for: date, exposed: int) -> None:
    """At risk from 5 to 30 May, 26 days; a dose on the 5th is relied on to the 18th, and what only fades is exposed."""
    of = season(made_for=made_for)
    assert exposed_sheep_days(of, Doses([given(of, day) for day in days])) == exposed


def test_away_sheep_are_not_exposed() -> None:
    of = season(events=(event("away", may(10), may(12)),))
    assert exposed_sheep_days(of, Doses([])) == 23 * 90
