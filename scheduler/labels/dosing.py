"""Weight -> millilitres: which dose band holds a sheep, and which second dose its weight obliges."""

from decimal import Decimal
from fractions import Fraction
from typing import Literal

from msgspec import Struct

from scheduler.facts import facts
from scheduler.labels.model import Band, RepeatDuty, Use
from scheduler.words import ceil_to_step


class NoBand(Struct, frozen=True):
    """Why a use states no dose: no band holds the heaviest or the lightest (its kg given), or no weight is known."""

    lacks: Literal["heaviest", "lightest", "weight"]
    kg: Decimal | None = None


def dose_ml(
    use: Use, heaviest_kg: Decimal | None, lightest_kg: Decimal | None, area_cm2: Decimal | None = None
) -> Decimal | NoBand:
    """The dose of one sheep in ml, set by the heaviest, or why there is none.

    Both the heaviest and, where known, the lightest (kg) must stand in a band: above_kg < weight <= upto_kg.
    A single open band of a dose that does not go by weight needs no weight. area_cm2: of struck fleece on one sheep,
    for a dose by area; None = the area taken where none was measured.
    """
    alone = use.bands[0]
    if len(use.bands) == 1 and alone.above_kg is None and alone.upto_kg is None and alone.ml_per_kg is None:
        return band_ml(alone, Decimal(0), area_cm2)
    if heaviest_kg is None:
        return NoBand("weight")
    band = band_of(use, heaviest_kg)
    if band is None:
        return NoBand("heaviest", heaviest_kg)
    if lightest_kg is not None and band_of(use, lightest_kg) is None:
        return NoBand("lightest", lightest_kg)
    return band_ml(band, heaviest_kg, area_cm2)


def band_of(use: Use, kg: Decimal) -> Band | None:
    """The dose band that holds a weight in kg, or None."""
    return next((band for band in use.bands if _holds(band, kg)), None)


def repeat_due(use: Use, lightest_kg: Decimal | None) -> RepeatDuty | None:
    """The second dose that a first one obliges: the first duty of the label that the lightest (kg) falls under.

    Where the weight is not known only a duty without `upto_kg` binds.
    """
    for duty in use.repeats:
        if duty.upto_kg is None or (lightest_kg is not None and lightest_kg <= duty.upto_kg):
            return duty
    return None


def _holds(band: Band, kg: Decimal) -> bool:
    return (band.above_kg is None or band.above_kg < kg) and (band.upto_kg is None or kg <= band.upto_kg)


def band_ml(band: Band, kg: Decimal, area_cm2: Decimal | None = None) -> Decimal:
    """What one sheep of `kg` gets in ml, whether the band holds it or not; for a dose by area that of area_cm2."""
    if band.ml is not None:
        return _exact(Fraction(band.ml))
    if band.ml_per_kg is not None:
        ml = Fraction(band.ml_per_kg) * Fraction(kg)
    else:
        area = area_cm2 if area_cm2 is not None else facts().figures.struck_area_cm2.value
        ml = Fraction(band.ml_per_100cm2 or 0) * Fraction(area) / 100
    if band.step_ml is not None:
        ml = ceil_to_step(ml, Fraction(band.step_ml))
    return _exact(ml if band.most_ml is None else min(ml, Fraction(band.most_ml)))


def _exact(value: Fraction) -> Decimal:
    """The fraction as a decimal with every digit, however many (products of decimals always end)."""
    places = 0
    while value.denominator != 1:
        value *= 10
        places += 1
    return Decimal(f"{value.numerator}E-{places}")
