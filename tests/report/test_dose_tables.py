"""Dose tables: the rows of the label for the sheep of the plan, and a little beyond the heaviest."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from scheduler.labels import DoseStep
from scheduler.report import dose_tables, step_words
from tests.outputs.pieces import cohort, day, dose, label, plan, report


def step(above: str | None, upto: str | None, ml: str = "5") -> DoseStep:
    """A row of a table."""
    return DoseStep(
        above_kg=None if above is None else Decimal(above),
        upto_kg=None if upto is None else Decimal(upto),
        ml=Decimal(ml),
    )


@pytest.mark.parametrize(("row", "words"), [
    (step(None, "10"), "up to 10 kg"),
    (step("0", "10"), "up to 10 kg"),
    (step("10", "22.50"), "over 10 to 22.5 kg"),
    (step("80", None), "over 80 kg"),
    (step(None, None), "any weight"),
    (DoseStep(above_kg=None, upto_kg=None, ml=Decimal(4), area_cm2=150), "150 cm² struck"),
])  # fmt: skip
def test_a_row_says_which_sheep_it_is_for(row: DoseStep, words: str) -> None:
    assert step_words(row) == words


def test_only_uses_that_are_planned_have_a_table_and_it_ends_two_rows_beyond_the_heaviest() -> None:
    steps = tuple(step(str(kg), str(kg + 10)) for kg in range(0, 100, 10))
    medicine = label()
    idle = replace(medicine.uses[0], id="idle", doses=steps)
    medicine = replace(medicine, uses=(replace(medicine.uses[0], doses=steps), idle))
    told = report(plan(tasks=(dose(cohort("Ewes", 9), day(6, 1)),)), labels=(medicine,))
    (table,) = dose_tables(told)
    assert table.use.id == "guard"
    assert [str(row.upto_kg) for row in table.steps] == ["10", "20", "30", "40", "50"]  # the heaviest weighs 22.405 kg


def test_a_dose_already_given_needs_no_table() -> None:
    assert (
        dose_tables(report(plan(tasks=(dose(cohort("Ewes", 9), day(5, 1), status="done"),)), labels=(label(),))) == ()
    )
