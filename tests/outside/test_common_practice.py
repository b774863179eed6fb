"""Figures of the trade without a published source, held as a label would state them.

Source: common practice, no source (data/common_practice.csv). They show that such figures can be written into a label
and come out again; they are no advice.
"""

import tomllib
from decimal import Decimal

import pytest

from scheduler.labels.dosing import dose_ml, repeat_due
from tests.outside.leaflets import band, use_of
from tests.outside.plans import SAMPLES
from tests.outside.tables import rows

FIGURES = {row["fact"]: row for row in rows("common_practice.csv")}
LICE = "lice dose"
TICKS = "tick dose {} (adults and lambs over 10 kg)"
YOUNG = "tick dose lambs under 10 kg {}"
POUR_ON = tomllib.loads((SAMPLES / "fellside" / "labels" / "tick-pour-on.toml").read_text(encoding="utf-8"))


def figure(fact: str) -> Decimal:
    """The value of a fact of the table."""
    return Decimal(FIGURES[fact]["value"])


def by_weight(rate: str, most: str, per_kg: int = 20, above: str = "") -> str:
    """A dose of the table's rate for every 20 kg begun, up to the most a head."""
    ml = figure(rate)
    return band(above=above, ml_per_kg=str(ml / per_kg), step_ml=str(ml), most_ml=str(figure(most)))


@pytest.mark.parametrize(("kg", "ml"), [("8", 5), ("20", 5), ("20.1", 10), ("45", 15), ("79", 20), ("95", 20)])
def test_lice_dose_is_5_ml_for_each_20_kg_and_at_most_20(kg: str, ml: int) -> None:
    use = use_of(by_weight(f"{LICE} rate", f"{LICE} maximum"))
    assert dose_ml(use, Decimal(kg), None, None) == ml


@pytest.mark.parametrize(("kg", "ml"), [("10", 5), ("10.1", 10), ("20", 10), ("21", 20), ("65", 40), ("95", 40)])
def test_tick_dose_is_10_ml_for_each_20_kg_and_at_most_40(kg: str, ml: int) -> None:
    young = band(upto="10", ml=str(figure(YOUNG.format("first dose"))))
    use = use_of(young + by_weight(TICKS.format("rate"), TICKS.format("maximum"), above="10"))
    assert dose_ml(use, Decimal(kg), None, None) == ml


@pytest.mark.parametrize(("lightest", "owed"), [("6.5", True), ("10", True), ("10.1", False)])
def test_light_lambs_are_owed_a_second_tick_dose_after_21_days(lightest: str, owed: bool) -> None:
    days, ml = figure(YOUNG.format("interval first to second dose")), figure(YOUNG.format("second dose"))
    use = use_of(band(ml="5") + f"[[use.repeat]]\nupto_kg = 10\nafter_days = {days}\nml = {ml}\n")
    duty = repeat_due(use, Decimal(lightest))
    assert (duty is not None) == owed
    assert duty is None or (duty.after_days, duty.ml) == (21, Decimal(10))


def test_head_fly_dose_is_the_same_whatever_the_weight() -> None:
    use = use_of(band(ml=str(figure("head fly dose"))))
    assert {dose_ml(use, kg, None, None) for kg in (None, Decimal(30), Decimal(95))} == {5}


@pytest.mark.parametrize(("area", "ml"), [("100", "2.5"), ("300", "7.5"), (None, "3.75")])
def test_a_struck_patch_is_dosed_by_its_area(area: str | None, ml: str) -> None:
    use = use_of(band(ml_per_100cm2=str(figure("strike treatment dose per affected area"))))
    assert dose_ml(use, None, None, None if area is None else Decimal(area)) == Decimal(ml)


def test_the_sample_pour_on_has_the_usual_figures() -> None:
    strike = next(use for use in POUR_ON["use"] if use["id"] == "strike")
    ticks = next(use for use in POUR_ON["use"] if use["id"] == "ticks")
    usual = FIGURES["pyrethroid pour-on strike prevention (normal challenge)"]["value"]
    assert "-".join(str(days) for days in strike["protects_days"]) == usual
    assert ticks["youngest_days"] == figure("minimum age pyrethroid pour-on")
    assert POUR_ON["withdrawal"]["meat"] == figure("meat withdrawal pyrethroid pour-on")
    assert POUR_ON["withdrawal"]["milk"] == figure("milk withdrawal pyrethroid pour-on")
    assert ticks["repeat"] == [{"upto_kg": 10, "after_days": 21, "ml": 10}]


def test_the_sample_head_fly_dose_protects_no_longer_than_usual() -> None:
    label = tomllib.loads((SAMPLES / "lowland-organic" / "labels" / "fly-pour-on.toml").read_text(encoding="utf-8"))
    head_fly = next(use for use in label["use"] if use["id"] == "head-fly")
    assert head_fly["protects_days"][1] == figure("head fly protection (upper end)")
    assert head_fly["dose"] == [{"ml": figure("head fly dose")}]
