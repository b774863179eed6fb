"""Printed dose tables, read as labels and asked for each whole kilogram.

Sources (stored pages): label summaries of a cyromazine 60 g/L spray-on for New Zealand and of an alpha-cypermethrin
12.5 g/L pour-on (Parasitipedia); data sheet of a deltamethrin 1% spot-on and dosage text of an ivermectin 1% injection
(National Office of Animal Health compendium). The cyromazine table prints 35 kg in two bands: a label must refuse it.
"""

from decimal import Decimal
from fractions import Fraction

import pytest

from scheduler.labels.dosing import NoBand, dose_ml
from tests.outside.leaflets import band, read, use_of
from tests.outside.tables import Row, rows

TABLE = rows("dose_band_volumes.csv")
CYROMAZINE = [row for row in TABLE if row["product_by_active"].startswith("cyromazine") and row["total_ml"]]
MENDED = [row if row["kg_from"] != "35" else {**row, "kg_from": "36"} for row in CYROMAZINE]


def printed(row: Row) -> str:
    """A printed band of whole kilograms: over the kilogram before its first, up to its last."""
    return band(above=str(int(row["kg_from"]) - 1), upto=row["kg_to"], ml=row["total_ml"])


@pytest.mark.parametrize("row", MENDED, ids=lambda row: f"{row['kg_from']} to {row['kg_to']} kg")
def test_every_whole_kilogram_gets_the_printed_volume(row: Row) -> None:
    use = use_of("".join(printed(one) for one in MENDED))
    for kg in range(int(row["kg_from"]), int(row["kg_to"]) + 1):
        assert dose_ml(use, Decimal(kg), None, None) == Decimal(row["total_ml"])


def test_the_printed_volumes_are_bands_times_volume_of_a_band() -> None:
    use = use_of("".join(printed(one) for one in MENDED))
    for row in MENDED:
        assert dose_ml(use, Decimal(row["kg_to"]), None, None) == int(row["bands"]) * Decimal(row["ml_per_band"])


def test_the_printed_overlap_at_35_kg_is_refused() -> None:
    overlapping = [row for row in CYROMAZINE if "35" in (row["kg_from"], row["kg_to"])]
    assert len(overlapping) == 2
    label, faults = read("".join(printed(row) for row in overlapping))
    assert label is None
    assert len(faults) == 1
    assert "overlap" in str(faults[0])


@pytest.mark.parametrize("kg", ["10", "70.5", "9.99"])
def test_no_volume_is_made_up_outside_the_printed_table(kg: str) -> None:
    use = use_of("".join(printed(one) for one in MENDED))
    assert dose_ml(use, Decimal(kg), None, None) == NoBand("heaviest", Decimal(kg))


@pytest.mark.parametrize(("product", "light", "heavy"), [
    ("alpha-cypermethrin 12.5 g/L pour-on", "24.9", "25"),
    ("deltamethrin 10 g/L spot-on", "9.9", "10"),
])  # fmt: skip
def test_a_table_that_parts_at_one_weight(product: str, light: str, heavy: str) -> None:
    under, over = [row for row in TABLE if row["product_by_active"] == product]
    edge = str(Decimal(under["kg_to"]) - Decimal("0.1"))
    use = use_of(band(upto=edge, ml=under["total_ml"]) + band(above=edge, ml=over["total_ml"]))
    assert dose_ml(use, Decimal(light), None, None) == Decimal(under["total_ml"])
    assert dose_ml(use, Decimal(heavy), None, None) == Decimal(over["total_ml"])


def per_kg(text: str) -> tuple[Fraction, str]:
    """Millilitres a kilogram, and the step, of a rate printed as "0.5 ml per 25 kg"."""
    step, per = text.removesuffix(" kg").split(" ml per ")
    return Fraction(step) / Fraction(per), step


@pytest.mark.parametrize(("kg", "ml"), [("50", "1.0"), ("25", "0.5"), ("26", "1.0"), ("20", "0.4"), ("16", "0.4")])
def test_an_injection_by_weight_is_rounded_up_to_its_step(kg: str, ml: str) -> None:
    over, under = [row for row in TABLE if row["product_by_active"].startswith("ivermectin")]
    (heavy, heavy_step), (light, light_step) = per_kg(over["total_ml"]), per_kg(under["total_ml"])
    use = use_of(
        band(upto="20", ml_per_kg=str(float(light)), step_ml=light_step)
        + band(above="20", ml_per_kg=str(float(heavy)), step_ml=heavy_step)
    )
    assert dose_ml(use, Decimal(kg), None, None) == Decimal(ml)
