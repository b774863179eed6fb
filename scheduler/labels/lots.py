"""Where to part a group of uneven sheep, so that each lot can be dosed by its own heaviest."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction
from math import ceil, floor

from msgspec import Struct
from msgspec.structs import replace

from scheduler.facts import facts
from scheduler.labels.dosing import band_ml, band_of
from scheduler.labels.model import Band, Use

TENTHS = 10
"""Lines are drawn on tenths of a kg, as weigh crates show them, where one fits."""


class Lot(Struct, frozen=True):
    """Sheep over above_kg (the lightest lot: from it on) and up to upto_kg; ml each, None where no band holds them."""

    above_kg: Decimal
    upto_kg: Decimal
    ml: Decimal | None


def lots_of(use: Use, lightest_kg: Decimal, heaviest_kg: Decimal) -> tuple[Lot, ...]:
    """The fewest lots, light first, each of one dose, that part sheep from lightest to heaviest.

    No lot stands in two bands of different dose, and where the dose goes by weight the heaviest of a lot is at most
    1.5 times its lightest (facts, weight_spread_ratio), as far as the dose grows with the weight. Each is dosed by its
    own heaviest, so no sheep gets less than its own weight's dose. One lot: nothing to part.
    """
    ends = sorted({edge for band in use.bands for edge in (band.above_kg, band.upto_kg) if edge is not None})
    lines = [edge for edge in ends if lightest_kg <= edge < heaviest_kg]
    lots: list[Lot] = []
    for above, upto in zip([lightest_kg, *lines], [*lines, heaviest_kg], strict=True):
        for lot in _within_a_band(band_of(use, upto), above, upto):
            if lots and lots[-1].ml == lot.ml:
                lots[-1] = replace(lots[-1], upto_kg=lot.upto_kg)
            else:
                lots.append(lot)
    return tuple(lots)


def _within_a_band(band: Band | None, above: Decimal, upto: Decimal) -> Iterator[Lot]:
    if band is None:
        yield Lot(above, upto, None)
        return
    for line in _lines(band, above, upto):
        yield Lot(above, line, band_ml(band, line))
        above = line
    yield Lot(above, upto, band_ml(band, upto))


def _lines(band: Band, lightest: Decimal, heaviest: Decimal) -> Iterator[Decimal]:
    """The weights at which sheep of one band are parted; none where the dose is the same for all."""
    if band.ml_per_kg is None:
        return
    top = Fraction(heaviest)
    if band.most_ml is not None:
        top = min(top, Fraction(band.most_ml) / Fraction(band.ml_per_kg))
    ratio = facts().figures.weight_spread_ratio.value
    while top > Fraction(lightest) * Fraction(ratio):
        lots = _fewest(Fraction(lightest), top, Fraction(ratio))
        lightest = _line(band, top / Fraction(ratio) ** (lots - 1), lightest * ratio)
        yield lightest


def _fewest(lightest: Fraction, heaviest: Fraction, ratio: Fraction) -> int:
    """The least number of lots, none of which spreads over more than the ratio."""
    lots = 1
    while lightest * ratio**lots < heaviest:
        lots += 1
    return lots


def _line(band: Band, least: Fraction, most: Decimal) -> Decimal:
    """A weight from least to most that is easily drawn at: where the dose steps, else a whole kg, else a tenth."""
    tenths = range(ceil(least * TENTHS), floor(Fraction(most) * TENTHS) + 1)
    middle = (least + Fraction(most)) / 2 * TENTHS
    best = min(tenths, key=lambda kg: (not _steps_at(band, kg), kg % TENTHS > 0, abs(kg - middle), kg), default=None)
    return most if best is None else Decimal(best) / TENTHS


def _steps_at(band: Band, tenths: int) -> bool:
    exact = Fraction(band.ml_per_kg or 0) * tenths / TENTHS
    return band.step_ml is not None and exact % Fraction(band.step_ml) == 0


def head_in_lots(head: int, lots: Sequence[Lot], mean_kg: Decimal | None = None) -> tuple[int, ...]:
    """How many of `head` sheep stand in each lot, if they are spread evenly from the lightest to the heaviest.

    With the mean weight, between the two: evenly from the lightest to the mean, and from the mean to the heaviest, in
    the shares that make this mean. Parts of a sheep go to the lots that lack most. No sheep is lost.
    """
    upto = [_share(lot.upto_kg, lots[0].above_kg, lots[-1].upto_kg, mean_kg) * head for lot in lots]
    exact = [end - begin for begin, end in zip([Fraction(0), *upto], upto, strict=False)]
    whole = [floor(part) for part in exact]
    by_lack = sorted(range(len(lots)), key=lambda lot: (whole[lot] - exact[lot], lot))
    for lot in by_lack[: head - sum(whole)]:
        whole[lot] += 1
    return tuple(whole)


def _share(kg: Decimal, lightest: Decimal, heaviest: Decimal, mean: Decimal | None) -> Fraction:
    """The share of the sheep that weigh at most `kg`."""
    if kg >= heaviest:
        return Fraction(1)
    low, here, high = Fraction(lightest), Fraction(kg), Fraction(heaviest)
    if mean is None or not low < mean < high:
        return (here - low) / (high - low)
    middle = Fraction(mean)
    light = (high - middle) / (high - low)
    if here <= middle:
        return light * (here - low) / (middle - low)
    return light + (1 - light) * (here - middle) / (high - middle)
