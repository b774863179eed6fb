"""Exact sums: half-up rounding of fractions, and money from major to minor units."""

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction


def half_up(value: Fraction) -> int:
    """The nearest whole number, halves away from zero downwards never: 2.5 is 3 (values here are 0 or more)."""
    return (2 * value.numerator + value.denominator) // (2 * value.denominator)


def two_decimals(value: Decimal) -> Decimal:
    """The value at two decimals, half up, as levels are compared and weights are shown."""
    return value.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)


def ceil_to_step(value: Fraction, step: Fraction) -> Fraction:
    """The least multiple of `step` that is not under `value`."""
    return -((-value) // step) * step
