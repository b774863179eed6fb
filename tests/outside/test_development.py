"""Days from egg to adult at constant temperatures: the straight line of degree-days against days that were observed.

Sources, each beside its figures in tests/outside/data: Grassberger and Reiter 2002 (Protophormia terraenovae), Voss
and others 2014 (Calliphora varifrons), abstracts; Insects 2021, 12(4):323 (Lucilia sericata), abstract, and days
derived from it; teaching tables at 21 °C, from memory; Bambaradeniya and others 2018 (Lucilia cuprina), abstract.
"""

import pytest

from scheduler.facts import biology
from scheduler.risk import degree_days
from tests.outside.tables import Row, rows

SPECIES = ("Protophormia terraenovae", "Calliphora varifrons")
THERMAL = rows("blowfly_thermal.csv")
OBSERVED = [row for row in THERMAL if row["species"] in SPECIES and row["quantity"].startswith("days_")]


def figure(species: str, quantity: str) -> float:
    """A figure of a species' whole development; the first printed."""
    return next(float(row["value"]) for row in THERMAL if (row["species"], row["quantity"]) == (species, quantity))


def days_at(degrees: float, base: float, heat: float) -> float:
    """Days of a constant temperature that sum up to the heat."""
    return heat / float(degree_days(degrees, degrees, base))


@pytest.mark.parametrize("row", OBSERVED, ids=lambda row: f"{row['species']}, {row['condition']}")
def test_the_line_meets_observed_days_within_six_percent(row: Row) -> None:
    species = row["species"]
    line = days_at(float(row["condition"].split()[0]), figure(species, "base_temperature"),
                   figure(species, "thermal_constant"))  # fmt: skip
    assert line == pytest.approx(float(row["value"]), rel=0.06)


@pytest.mark.parametrize("row", rows("lucilia_sericata_days.csv"), ids=lambda row: f"{row['temp_c']} °C")
def test_the_northern_fly_keeps_to_the_days_of_its_source(row: Row) -> None:
    fly = biology().sericata
    days = days_at(float(row["temp_c"]), fly.base.value, fly.generation.value)
    assert days == pytest.approx(float(row["days_egg_to_adult"]), abs=0.006)


def test_the_northern_fly_at_21_degrees_is_within_a_tenth_of_the_teaching_tables() -> None:
    fly = biology().sericata
    assert days_at(21, fly.base.value, fly.generation.value) == pytest.approx(486 / 24, rel=0.1)
    assert fly.emergence.value == pytest.approx(240 / 486 * 232.81, rel=0.01)


def test_the_southern_fly_at_27_degrees_is_what_was_printed() -> None:
    fly = biology().cuprina
    hours = figure("Lucilia cuprina", "hours_egg_to_adult")
    assert days_at(27, fly.base.value, fly.generation.value) == pytest.approx(hours / 24, rel=0.005)


def test_every_figure_of_the_models_lies_within_its_range() -> None:
    models = (biology().sericata, biology().cuprina, biology().head_fly, biology().ticks, biology().sheep)
    measures = [getattr(model, name) for model in models for name in model.__struct_fields__]
    for measure in filter(None, measures):
        assert measure.low <= measure.value <= measure.high, measure.unit
