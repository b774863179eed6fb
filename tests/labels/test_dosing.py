"""Weight -> ml, by values. Printed dose tables are held to in tests/outside."""

from decimal import Decimal, localcontext

import pytest
from msgspec.structs import replace

from scheduler.labels import Band, NoBand, RepeatDuty, Use, dose_ml, repeat_due
from scheduler.words import KINDS, Where


def use(*bands: Band, repeats: tuple[RepeatDuty, ...] = ()) -> Use:
    """A use with these bands."""
    return Use(
        id="guard",
        targets=("ticks",),
        purpose="treat",
        kinds=KINDS,
        bands=bands,
        repeats=repeats,
        where=Where("labels/pour.toml"),
    )


def kg(text: str) -> Decimal:
    return Decimal(text)


TWO = use(
    Band(above_kg=kg("5"), upto_kg=kg("10"), ml=kg("5")),
    Band(above_kg=kg("10"), ml_per_kg=kg("0.5"), step_ml=kg("5"), most_ml=kg("40")),
)


@pytest.mark.parametrize(
    ("heaviest", "ml"),
    [("5.001", "5"), ("10", "5"), ("10.0000001", "10"), ("20", "10"), ("20.01", "15"), ("80", "40"), ("95", "40")],
)
def test_the_band_of_the_heaviest_sets_the_dose(heaviest: str, ml: str) -> None:
    assert dose_ml(TWO, kg(heaviest), None, None) == kg(ml)


def test_a_weight_on_the_lower_edge_is_not_in_the_band() -> None:
    assert dose_ml(TWO, kg("5"), None, None) == NoBand("heaviest", kg("5"))


def test_the_lightest_must_stand_in_a_band_too_where_it_is_known() -> None:
    assert dose_ml(TWO, kg("20"), kg("4.9"), None) == NoBand("lightest", kg("4.9"))
    assert dose_ml(TWO, kg("20"), kg("5.1"), None) == kg("10")


def test_without_a_weight_there_is_no_dose_where_one_is_needed() -> None:
    assert dose_ml(TWO, None, kg("20"), None) == NoBand("weight")
    assert dose_ml(use(Band(ml_per_kg=kg("0.5"))), None, None, None) == NoBand("weight")
    assert dose_ml(use(Band(above_kg=kg("5"), ml=kg("5"))), None, None, None) == NoBand("weight")


def test_a_single_open_band_needs_no_weight() -> None:
    assert dose_ml(use(Band(ml=kg("5"))), None, None, None) == kg("5")


def test_by_weight_without_a_step_nothing_is_rounded() -> None:
    ml = dose_ml(use(Band(ml_per_kg=kg("0.1"))), kg("22.123456789012345678901234567890123"), None, None)
    assert str(ml) == "2.2123456789012345678901234567890123"


def test_digits_are_kept_whatever_the_context() -> None:
    with localcontext(prec=3):
        assert str(dose_ml(use(Band(ml_per_kg=kg("0.25"))), kg("40.123"), None, None)) == "10.03075"


def test_a_whole_dose_has_no_idle_zeros() -> None:
    assert str(dose_ml(use(Band(ml=kg("20.00"))), None, None, None)) == "20"


def test_rounding_goes_up_to_the_step_and_not_past_the_most() -> None:
    band = Band(ml_per_kg=kg("0.4"), step_ml=kg("2.5"), most_ml=kg("9"))
    assert dose_ml(use(band), kg("6.25"), None, None) == kg("2.5")
    assert dose_ml(use(band), kg("6.26"), None, None) == kg("5")
    assert dose_ml(use(band), kg("20"), None, None) == kg("9")


def test_by_area_what_was_measured_counts_and_else_150_square_centimetres() -> None:
    """150 cm² is the contract's figure for a struck patch that was not measured."""
    struck = use(Band(ml_per_100cm2=kg("4")))
    assert dose_ml(struck, None, None, kg("300")) == kg("12")
    assert dose_ml(struck, None, None, None) == kg("6")
    stepped = use(Band(ml_per_100cm2=kg("2.5"), step_ml=kg("1"), most_ml=kg("6")))
    assert dose_ml(stepped, None, None, None) == kg("4")
    assert dose_ml(stepped, None, None, kg("400")) == kg("6")


DUTIES = (
    RepeatDuty(after_days=21, ml=kg("10"), upto_kg=kg("10")),
    RepeatDuty(after_days=28, ml=kg("15"), upto_kg=kg("20")),
)


@pytest.mark.parametrize(("lightest", "after"), [("4", 21), ("10", 21), ("10.1", 28), ("20", 28), ("20.1", None)])
def test_the_first_duty_that_the_lightest_falls_under_binds(lightest: str, after: int | None) -> None:
    duty = repeat_due(use(Band(ml=kg("5")), repeats=DUTIES), kg(lightest))
    assert (duty.after_days if duty else None) == after


def test_an_unknown_weight_is_bound_only_by_a_duty_for_all() -> None:
    always = replace(DUTIES[0], upto_kg=None)
    assert repeat_due(use(Band(ml=kg("5")), repeats=DUTIES), None) is None
    assert repeat_due(use(Band(ml=kg("5")), repeats=(*DUTIES, always)), None) == always
