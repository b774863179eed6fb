"""Parting a group of uneven sheep: by hand-made examples, and no sheep is ever under-dosed."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.labels import Band, Lot, NoBand, Use, dose_ml, head_in_lots, lots_of
from tests.labels.test_dosing import kg, use

BY_WEIGHT = use(Band(ml_per_kg=kg("0.5"), step_ml=kg("5")))
"""Hand-made: 5 ml for every 10 kg begun."""
TWO_BANDS = use(Band(upto_kg=kg("25"), ml=kg("20")), Band(above_kg=kg("25"), ml=kg("40")))


def lot(above: str, upto: str, ml: str | None) -> Lot:
    return Lot(kg(above), kg(upto), None if ml is None else kg(ml))


@pytest.mark.parametrize(("lightest", "heaviest"), [("40", "60"), ("60", "60"), ("20.5", "30.75")])
def test_sheep_of_up_to_one_and_a_half_times_the_lightest_stay_together(lightest: str, heaviest: str) -> None:
    lots = lots_of(BY_WEIGHT, kg(lightest), kg(heaviest))
    assert [(one.above_kg, one.upto_kg) for one in lots] == [(kg(lightest), kg(heaviest))]


def test_a_wide_spread_is_parted_where_the_dose_steps() -> None:
    """From 20 to 40 kg the line may lie from 40 / 1.5 = 26.67 to 20 x 1.5 = 30; at 30 kg the dose steps."""
    assert lots_of(BY_WEIGHT, kg("20"), kg("40")) == (lot("20", "30", "15"), lot("30", "40", "20"))


def test_without_a_step_the_line_is_the_whole_kg_in_the_middle() -> None:
    """From 22 to 40 kg: 26.67 to 33, the middle is 29.83."""
    lots = lots_of(use(Band(ml_per_kg=kg("0.5"))), kg("22"), kg("40"))
    assert lots == (lot("22", "30", "15"), lot("30", "40", "20"))


def test_just_over_the_ratio_the_line_is_drawn_all_the_same() -> None:
    """From 20 to 45 kg, 2.25 times, the line can only be at 30; from 20 to 45.1 it takes three lots."""
    smooth = use(Band(ml_per_kg=kg("1")))
    assert [one.upto_kg for one in lots_of(smooth, kg("20"), kg("45"))] == [30, 45]
    assert len(lots_of(smooth, kg("20"), kg("45.1"))) == 3


def test_bands_are_kept_apart_however_near_the_weights() -> None:
    assert lots_of(TWO_BANDS, kg("24"), kg("26")) == (lot("24", "25", "20"), lot("25", "26", "40"))
    assert lots_of(TWO_BANDS, kg("25"), kg("26")) == (lot("25", "25", "20"), lot("25", "26", "40"))


def test_within_a_band_of_one_dose_nothing_is_parted() -> None:
    assert lots_of(TWO_BANDS, kg("26"), kg("90")) == (lot("26", "90", "40"),)


def test_sheep_that_no_band_holds_are_a_lot_without_a_dose() -> None:
    gap = use(
        Band(above_kg=kg("5"), upto_kg=kg("10"), ml=kg("5")), Band(above_kg=kg("12"), upto_kg=kg("30"), ml=kg("9"))
    )
    lots = lots_of(gap, kg("4"), kg("40"))
    assert lots == (
        lot("4", "5", None),
        lot("5", "10", "5"),
        lot("10", "12", None),
        lot("12", "30", "9"),
        lot("30", "40", None),
    )


def test_past_the_most_the_dose_does_not_grow_so_nothing_is_parted() -> None:
    capped = use(Band(ml_per_kg=kg("0.5"), most_ml=kg("40")))
    assert lots_of(capped, kg("60"), kg("130")) == (lot("60", "130", "40"),)
    assert len(lots_of(capped, kg("50"), kg("130"))) == 2


TWO_LOTS = (lot("20", "30", "15"), lot("30", "40", "20"))


@pytest.mark.parametrize(("head", "mean", "expected"), [
    (100, None, (50, 50)),
    (101, None, (51, 50)),
    (1, None, (1, 0)),
    (100, "30", (50, 50)),
    (100, "25", (83, 17)),
    (100, "40", (50, 50)),
])  # fmt: skip
def test_head_follows_an_even_spread_and_the_mean(head: int, mean: str | None, expected: tuple[int, ...]) -> None:
    """With a mean of 25: 75 in 100 from 20 to 25, 25 in 100 from 25 to 40, a third of which up to 30: 83.3."""
    assert head_in_lots(head, TWO_LOTS, None if mean is None else kg(mean)) == expected


weights = st.decimals(1, 200, places=2)


@st.composite
def uses(draw: st.DrawFn) -> Use:
    """A label's use with one to four bands, gaps between them or not, each fixed or by weight."""
    edges = sorted(draw(st.lists(st.decimals(1, 200, places=1), min_size=2, max_size=8, unique=True)))
    bands = []
    for above, upto in zip(edges[::2], edges[1::2], strict=False):
        ml = st.decimals("0.1", 50, places=1)
        fixed = Band(above_kg=above, upto_kg=upto, ml=draw(ml))
        step, most = draw(st.none() | ml), draw(st.none() | ml)
        by_weight = Band(above_kg=above, upto_kg=upto, ml_per_kg=draw(ml), step_ml=step, most_ml=most)
        bands.append(draw(st.sampled_from([fixed, by_weight])))
    if draw(st.booleans()):
        bands = [*bands[:-1], Band(**{**_fields(bands[-1]), "upto_kg": None})]
    return use(*bands)


def _fields(band: Band) -> dict[str, Decimal | None]:
    return {name: getattr(band, name) for name in ("above_kg", "upto_kg", "ml", "ml_per_kg", "step_ml", "most_ml")}


@settings(deadline=None)
@given(uses(), weights, weights, weights, st.integers(0, 500))
def test_no_sheep_gets_less_than_its_own_weights_dose(
    drawn: Use, one: Decimal, two: Decimal, sheep: Decimal, head: int
) -> None:
    lightest, sheep, heaviest = sorted((one, two, sheep))
    lots = lots_of(drawn, lightest, heaviest)
    own = next(each for each in lots if sheep <= each.upto_kg)
    needed = dose_ml(drawn, sheep, sheep)
    if isinstance(needed, NoBand):
        assert own.ml is None
    else:
        assert own.ml is not None
        assert own.ml >= needed
    assert sum(head_in_lots(head, lots)) == head
    assert min(head_in_lots(head, lots, sheep)) >= 0


@settings(deadline=None)
@given(weights, weights)
def test_each_lot_of_a_smooth_dose_spreads_at_most_by_the_ratio_and_fewer_lots_would_not_do(
    one: Decimal, two: Decimal
) -> None:
    lightest, heaviest = sorted((one, two))
    lots = lots_of(use(Band(ml_per_kg=kg("0.1"))), lightest, heaviest)
    assert all(Fraction(each.upto_kg) <= Fraction(3, 2) * Fraction(each.above_kg) for each in lots)
    assert lots[0].above_kg == lightest
    assert lots[-1].upto_kg == heaviest
    assert len(lots) == 1 or Fraction(lightest) * Fraction(3, 2) ** (len(lots) - 1) < heaviest
