"""Sums of millilitres with every digit: the usual context of Decimal rounds at 28."""

from collections.abc import Iterable
from decimal import Context, Decimal

_CONTEXT = Context(prec=400)


def times(ml: Decimal, head: int) -> Decimal:
    """So many ml for each of so many head."""
    return _CONTEXT.multiply(ml, head)


def total(amounts: Iterable[Decimal]) -> Decimal:
    """The sum of the amounts; 0 where there are none."""
    found = Decimal(0)
    for amount in amounts:
        found = _CONTEXT.add(found, amount)
    return found


def less(ml: Decimal, taken: Decimal) -> Decimal:
    """What is left of an amount."""
    return _CONTEXT.subtract(ml, taken)
