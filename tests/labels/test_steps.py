"""The table of a use: each step of the dose where it changes."""

from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.labels import Band, NoBand, Use, dose_ml, dose_steps
from tests.labels.test_dosing import TWO, kg, use
from tests.labels.test_lots import uses


def rows(drawn: Use) -> list[tuple[str | None, str | None, str]]:
    """(above, up to, ml) as text."""
    return [(text(step.above_kg), text(step.upto_kg), str(step.ml)) for step in dose_steps(drawn)]


def text(value: Decimal | None) -> str | None:
    return None if value is None else str(value)


def test_fixed_and_stepped_bands_stand_one_under_the_other() -> None:
    """By hand: over 10 kg 0.5 ml a kg, rounded up to 5 ml, at most 40 ml, which 80 kg reach."""
    assert rows(TWO) == [
        ("5", "10", "5"),
        ("10", "20", "10"),
        ("20", "30", "15"),
        ("30", "40", "20"),
        ("40", "50", "25"),
        ("50", "60", "30"),
        ("60", "70", "35"),
        ("70", None, "40"),
    ]


def test_a_band_past_the_most_is_one_row() -> None:
    assert rows(use(Band(above_kg=kg("90"), ml_per_kg=kg("0.5"), most_ml=kg("40")))) == [("90", None, "40")]


def test_without_steps_a_row_stands_for_ten_kg_and_tells_its_heaviest() -> None:
    smooth = use(Band(above_kg=kg("15"), upto_kg=kg("35"), ml_per_kg=kg("0.2")))
    assert rows(smooth) == [("15", "20", "4"), ("20", "30", "6"), ("30", "35", "7")]


def test_an_edge_that_never_ends_is_rounded_down() -> None:
    assert rows(use(Band(upto_kg=kg("34"), ml_per_kg=kg("0.3"), step_ml=kg("5"))))[:2] == [
        (None, "16.66", "5"),
        ("16.66", "33.33", "10"),
    ]


def test_a_dose_by_area_has_rows_by_area() -> None:
    found = [(step.area_cm2, step.ml) for step in dose_steps(use(Band(ml_per_100cm2=kg("2.5"), most_ml=kg("5"))))]
    assert found == [(50, kg("1.25")), (100, kg("2.5")), (150, kg("3.75")), (200, 5), (300, 5), (400, 5)]


@settings(deadline=None)
@given(uses(), st.decimals(1, 200, places=2))
def test_every_weight_finds_its_row_and_never_less_than_its_dose(drawn: Use, weight: Decimal) -> None:
    holds = [
        step
        for step in dose_steps(drawn)
        if (step.above_kg or 0) < weight and (step.upto_kg is None or weight <= step.upto_kg)
    ]
    needed = dose_ml(drawn, weight, weight)
    assert len(holds) == (0 if isinstance(needed, NoBand) else 1)
    assert isinstance(needed, NoBand) or holds[0].ml >= needed
