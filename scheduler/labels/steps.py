"""A use as a table: from weight, or from the area found struck, to millilitres; a row for each step of the dose."""

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from itertools import takewhile

from msgspec import Struct
from msgspec.structs import replace

from scheduler.labels.dosing import band_ml
from scheduler.labels.model import Band, Use
from scheduler.tables import range_of

MOST_ROWS = 50
"""Rows of one band; where its steps are finer, or the dose grows without steps, a row stands for ROW_KG."""
ROW_KG = 10
AREAS_CM2 = (50, 100, 150, 200, 300, 400)
"""Areas of struck fleece that are shown."""


class DoseStep(Struct, frozen=True, kw_only=True):
    """Sheep over above_kg and up to upto_kg (None = open) get `ml` each; with area_cm2, for so much struck fleece.

    Where the dose grows within the row, `ml` is that of its heaviest.
    """

    above_kg: Decimal | None
    upto_kg: Decimal | None
    ml: Decimal
    area_cm2: int | None = None


def dose_steps(use: Use) -> tuple[DoseStep, ...]:
    """The whole table of a use, light sheep first. A dose by weight without an end goes as far as sheep do."""
    bands = sorted(use.bands, key=lambda band: band.above_kg or Decimal(0))
    return tuple(step for band in bands for step in _steps(band))


def _steps(band: Band) -> Iterator[DoseStep]:
    if band.ml is not None:
        yield DoseStep(above_kg=band.above_kg, upto_kg=band.upto_kg, ml=band.ml)
    elif band.ml_per_kg is not None:
        yield from _by_weight(band, Fraction(band.ml_per_kg))
    else:
        for area in AREAS_CM2:
            ml = band_ml(band, Decimal(0), Decimal(area))
            yield DoseStep(above_kg=band.above_kg, upto_kg=band.upto_kg, ml=ml, area_cm2=area)


def _by_weight(band: Band, ml_per_kg: Fraction) -> Iterator[DoseStep]:
    """Rows up to where the band ends, or where the dose grows no further; neighbours of the same dose are one row."""
    begin = band.above_kg or Decimal(0)
    heaviest = band.upto_kg or max(range_of("kg").most, begin + ROW_KG)
    end = heaviest if band.most_ml is None else min(heaviest, max(begin, _cents(Fraction(band.most_ml) / ml_per_kg)))
    rows: list[DoseStep] = []
    above = band.above_kg
    for edge in [*_edges(band, ml_per_kg, end), *([end] if end > begin else [])]:
        rows.append(DoseStep(above_kg=above, upto_kg=edge, ml=band_ml(band, edge)))
        above = edge
    if band.most_ml is not None and end != band.upto_kg:
        rows.append(DoseStep(above_kg=above, upto_kg=band.upto_kg, ml=band.most_ml))
    yield from _joined(rows)


def _edges(band: Band, ml_per_kg: Fraction, end: Decimal) -> list[Decimal]:
    """Weights between the band's beginning and `end` at which the dose changes, or every ROW_KG kg."""
    begin = band.above_kg or Decimal(0)
    step = Fraction(band.step_ml) / ml_per_kg if band.step_ml is not None else None
    if step is None or (Fraction(end) - Fraction(begin)) / step > MOST_ROWS:
        step = Fraction(ROW_KG)
    first = Fraction(begin) // step + 1
    multiples = (_cents(step * number) for number in range(first, first + MOST_ROWS + 1))
    return [edge for edge in takewhile(lambda edge: edge < end, multiples) if edge > begin]


def _cents(kg: Fraction) -> Decimal:
    """The weight rounded down to 0.01 kg: a sheep between it and the true edge is told the greater dose."""
    return Decimal(kg * 100 // 1) / 100


def _joined(rows: list[DoseStep]) -> Iterator[DoseStep]:
    begun = rows[0]
    for row in rows[1:]:
        if row.ml != begun.ml:
            yield begun
            begun = row
        else:
            begun = replace(begun, upto_kg=row.upto_kg)
    yield begun
