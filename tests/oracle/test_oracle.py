"""The oracle's rules on cases worked out by hand from the sentences of the definitions (no figure of the product).

Each expected day is counted on the fingers: "the day before, the day, the day after".
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from tests.oracle.compare_tasks import clear_dates, protects, runs_of
from tests.oracle.judge import judge
from tests.oracle.physic import dose_ml, off_label_days, organic_days, weight
from tests.oracle.small import LAMBS, dose, label, may, small
from tests.oracle.world import World

SALE = "sale,group,head,date,purpose\ndraw,Ewes,10,2027-05-20,{purpose}\n"
SHEAR = "date,end,what,groups\n2027-05-12,,shearing,Ewes\n"
LAMBING = "date,end,what,groups\n2027-05-10,2027-05-12,lambing,Ewes\n"


def broken(world: World, *days: int, cohort: str = "Ewes/stay") -> set[str]:
    """Slugs that first doses on days of May break (too-early apart)."""
    return {one.slug for one in judge(world, [dose(day, cohort) for day in days])} - {"too-early"}


@pytest.mark.parametrize(("day", "slugs"), [(10, set()), (11, set()), (12, {"meat-withdrawal"})])
def test_meat_of_8_days_is_clear_on_the_ninth_day(day: int, slugs: set[str]) -> None:
    """Sold on 20 May: 11 + 8 + 1 = 20."""
    world = small({"sales.csv": SALE.format(purpose="slaughter")})
    assert broken(world, day, cohort="Ewes/draw") == slugs


@pytest.mark.parametrize(("day", "slugs"), [(9, set()), (10, {"meat-withdrawal"})])
def test_the_margin_is_added_to_the_clear_date(day: int, slugs: set[str]) -> None:
    """9 + 8 + 1 + 2 = 20."""
    world = small({"sales.csv": SALE.format(purpose="slaughter")}, margin="2")
    assert broken(world, day, cohort="Ewes/draw") == slugs


@pytest.mark.parametrize(("day", "slugs"), [(3, set()), (4, {"organic-withdrawal"}), (12, {"meat-withdrawal"})])
def test_an_organic_farm_doubles_meat(day: int, slugs: set[str]) -> None:
    """3 + 16 + 1 = 20; from 12 on the plain 8 days fail already."""
    world = small({"sales.csv": SALE.format(purpose="slaughter")}, organic="true")
    assert broken(world, day, cohort="Ewes/draw") == slugs


@pytest.mark.parametrize(("day", "slugs"), [(6, set()), (7, {"export-interval"})])
def test_export_has_its_own_interval(day: int, slugs: set[str]) -> None:
    """6 + 13 + 1 = 20."""
    world = small({"sales.csv": SALE.format(purpose="export")}, withdrawal="meat = 8\nexport = 13")
    assert broken(world, day, cohort="Ewes/draw") == slugs


def test_a_store_sale_stops_nothing_but_not_permitted_does() -> None:
    sale = {"sales.csv": SALE.format(purpose="store")}
    assert broken(small(sale), 19, cohort="Ewes/draw") == set()
    assert broken(small(sale, withdrawal='meat = "not-permitted"'), 1, cohort="Ewes/draw") == {"meat-withdrawal"}


@pytest.mark.parametrize(("day", "slugs"), [(14, {"repeat-interval"}), (15, set()), (16, set())])
def test_interval_of_14_days_is_kept_on_the_fourteenth(day: int, slugs: set[str]) -> None:
    assert broken(small(), 1, day) == slugs


@pytest.mark.parametrize(("day", "slugs"), [(8, {"lamb-repeat"}), (9, set()), (12, set()), (13, {"lamb-repeat"})])
def test_a_repeat_after_7_days_falls_on_the_seventh_to_tenth(day: int, slugs: set[str]) -> None:
    """First on 2 May: 9, 10, 11 or 12 May."""
    world = small(repeat="[[use.repeat]]\nafter_days = 7\nml = 3")
    assert {one.slug for one in judge(world, [dose(2), dose(day, first=2)])} - {"too-early"} == slugs


def test_a_missing_repeat_is_lamb_repeat_or_repeat_before_sale() -> None:
    """On 14 May 7 days lead to 21 May, after the sale of 20 May; on 4 May to 11 May, clear on 20 May; on 5 May not."""
    repeat = "[[use.repeat]]\nafter_days = 7\nml = 3"
    world = small({"sales.csv": SALE.format(purpose="slaughter")}, repeat=repeat)
    found = {day: broken(world, day, cohort="Ewes/draw") for day in (4, 5, 14)}
    assert found == {4: {"lamb-repeat"}, 5: {"repeat-before-sale"}, 14: {"repeat-before-sale", "meat-withdrawal"}}


@pytest.mark.parametrize(("day", "slugs"), [(7, {"youngest-age"}), (8, set()), (9, set())])
def test_age_counts_from_the_last_birth(day: int, slugs: set[str]) -> None:
    """Last born on 24 April: 14 days old on 8 May."""
    world = small({"groups.csv": LAMBS}, keys="protects_days = [14, 20]\nyoungest_days = 14")
    assert broken(world, day, cohort="Lambs/stay") == slugs


@pytest.mark.parametrize(("day", "slugs"), [(18, {"fleece-weeks"}), (19, set()), (26, set()), (27, {"fleece-weeks"})])
def test_fleece_of_one_to_two_weeks(day: int, slugs: set[str]) -> None:
    """Shorn on 12 May: 7 days later is 19 May, 14 days later 26 May."""
    world = small({"events.csv": SHEAR}, keys="protects_days = [14, 20]\nfleece_weeks = [1, 2]")
    assert broken(world, day) == slugs


@pytest.mark.parametrize(("day", "slugs"), [(4, set()), (5, {"wool-interval"}), (11, {"wool-interval"}), (12, set())])
def test_wool_of_7_days_before_a_shearing(day: int, slugs: set[str]) -> None:
    """4 + 7 + 1 = 12; a dose on the day itself comes after the shearing."""
    assert broken(small({"events.csv": SHEAR}, withdrawal="meat = 8\nwool = 7"), day) == slugs


@pytest.mark.parametrize(
    ("day", "slugs"), [(7, set()), (8, {"use-on-label"}), (10, {"lambing-quiet"}), (12, {"lambing-quiet"}), (13, set())]
)
def test_quiet_at_lambing_and_3_days_before(day: int, slugs: set[str]) -> None:
    """Lambing 10 to 12 May; 10 - 8 = 2 is under 3."""
    assert broken(small({"events.csv": LAMBING}, limits="not_before_lambing_days = 3"), day) == slugs


@pytest.mark.parametrize(("day", "slugs"), [(5, {"product-clash"}), (6, set()), (7, set())])
def test_a_clash_of_5_days_is_over_on_the_fifth(day: int, slugs: set[str]) -> None:
    other = label(active="diazinon", chemical="organophosphate")
    limits = 'not_with = [{ chemical_group = " Organophosphate", days = 5 }]'
    world = small({"labels/other.toml": other}, limits=limits)
    assert {one.slug for one in judge(world, [dose(1), dose(day, name="other")])} - {"too-early"} == slugs


def test_most_per_season_counts_all_labels_of_the_active() -> None:
    tables = {"labels/other.toml": label(limits="most_per_season = 2")}
    world = small(tables, limits="")
    assert not {one.slug for one in judge(world, [dose(1), dose(9, name="other")])} - {"too-early"}
    doses = [dose(1), dose(9, name="other"), dose(20)]
    assert "season-maximum" in {one.slug for one in judge(world, doses)}


def test_closed_days_by_date_weekday_and_rule() -> None:
    """2 May 2027 is a Sunday; every tenth day from 1 May: 11 May."""
    world = small(closed='["2027-05-05", "every sunday", "FREQ=DAILY;INTERVAL=10"]')
    assert [day for day in range(1, 13) if "closed-day" in broken(world, day)] == [1, 2, 5, 9, 11]


def test_a_dose_21_days_before_risk_is_not_too_early_if_it_still_covers() -> None:
    """At risk from 10 May; a dose of 1 May with 9 days of protection ends on 9 May, with 10 on 10 May."""
    short = judge(small(keys="protects_days = [9, 9]"), [dose(1)])
    assert [one.slug for one in short] == ["too-early"]
    assert judge(small(keys="protects_days = [10, 10]"), [dose(1)]) == []


def test_lamb_weights_from_birth() -> None:
    """4 May is 14 days after 20 April (8.0 + 14 x 0.2 x 1.25) and 10 after 24 April (2.5 + 10 x 0.2 x 0.75)."""
    world = small({"groups.csv": LAMBS})
    group = world.farm.groups["Lambs"]
    assert weight(world, group, may(4), True) == Decimal("11.5")
    assert weight(world, group, may(4), False) == Decimal("4.0")


@pytest.mark.parametrize(
    ("band", "ml"),
    [("ml_per_kg = 0.1875\nstep_ml = 5", "15"), ("ml_per_kg = 0.5\nmost_ml = 25", "25"), ("ml = 4", "4")],
)
def test_dose_by_weight_is_rounded_up_to_its_step(band: str, ml: str) -> None:
    """60 kg: 11.25 ml goes up to 15; 30 ml is held at 25."""
    world = small(band=band)
    assert dose_ml(world, world.farm.groups["Ewes"], world.use("demo", "guard"), may(1)) == Decimal(ml)


def test_no_band_for_the_lightest_is_dose_band() -> None:
    """The lightest ewe weighs 50 kg: not over 50, but over 49."""
    assert broken(small(band="above_kg = 50\nml = 5"), 1) == {"dose-band"}
    assert broken(small(band="above_kg = 49\nml = 5"), 1) == set()


@pytest.mark.parametrize(
    ("caution", "to", "fades"),
    [("high", "2027-05-22", "2027-05-29"), ("middle", "2027-05-25", "2027-05-29"), ("low", "2027-05-29", None)],
)
def test_cover_and_fading_by_caution(caution: str, to: str, fades: str | None) -> None:
    """From 9 May (works after 1 day): 14, 17 (half of 35, down) or 21 days from 8 ... less one."""
    world = small(keys="protects_days = [15, 22]\nworks_after_days = 1", caution=caution)
    assert protects(world, dose(8)) == {"from": "2027-05-09", "to": to, "fades_until": fades}


def test_shearing_cuts_cover_the_day_before() -> None:
    keys = 'protects_days = [14, 20]\nends_at = ["shearing"]'
    world = small({"events.csv": SHEAR}, keys=keys)
    assert protects(world, dose(5)) == {"from": "2027-05-05", "to": "2027-05-11", "fades_until": None}
    assert protects(world, dose(12)) == {"from": "2027-05-12", "to": "2027-05-25", "fades_until": "2027-05-31"}


def test_runs_of_state_tile_the_season() -> None:
    """A dose of 3 May covers to 16 May and fades to 22 May; at risk 10 to 20 May."""
    zero, half = Decimal("0.00"), Decimal("0.50")
    assert runs_of(small(), "Ewes/stay", "ticks", [dose(3)]) == [
        ("2027-05-01", "2027-05-09", zero, "low"),
        ("2027-05-10", "2027-05-16", half, "covered"),
        ("2027-05-17", "2027-05-20", half, "fading"),
        ("2027-05-21", "2027-06-30", zero, "low"),
    ]


def test_off_label_and_organic_days() -> None:
    """1.5 x 5 = 7.5, up to 8; zero milk gives 1; an organic 0 gives 2.

    Sources: Regulation (EU) 2019/6 Art 115(1); Veterinary Medicines Regulations 2013 Sch 4 para 2(3) as amended 2024
    (rounding a part day up: from memory). The organic floor of 2 days is a definition of ours.
    """
    assert [off_label_days("GB", 5, None, False), off_label_days("GB-NIR", 7, None, True)] == [8, 11]
    assert [
        off_label_days("GB", 0, None, True),
        off_label_days("NZ", 5, None, False),
        off_label_days("GB", 5, 28, False),
    ] == [1, 5, 28]
    assert [organic_days(0), organic_days(8)] == [2, 16]


def test_clear_dates_of_a_dose() -> None:
    world = small(withdrawal="meat = 8\nwool = 60", organic="true")
    assert clear_dates(world, dose(1), may(1), ()) == {
        "meat": "2027-05-18",
        "milk": None,
        "export": None,
        "wool": "2027-07-01",
    }


def test_level_reaches_the_act_level_at_two_decimals() -> None:
    """0.295 is 0.30, half up; 0.294 is 0.29."""
    levels = "target,from,to,level,groups\nticks,2027-05-10,2027-05-10,0.295,\nticks,2027-05-11,2027-05-11,0.294,\n"
    world = small({"risk.csv": levels})
    cohort = world.cohorts["Ewes/stay"]
    assert [world.day_state(cohort, "ticks", date(2027, 5, day), [])[1] for day in (10, 11)] == ["exposed", "low"]
