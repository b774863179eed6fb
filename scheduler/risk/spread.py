"""What so many years of five had: levels, and the days on which a season began and ended."""

from collections.abc import Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from scheduler.farm import Caution

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

SHARES: dict[Caution, Fraction] = {"high": Fraction(1, 5), "middle": Fraction(1, 2), "low": Fraction(4, 5)}
"""The part of the years in which a level was reached, by how careful the plan is: the definitions of `caution`."""


def rank(years: int, share: Fraction) -> int:
    """How many of these years are at least that share of them: at least one."""
    return -(-years * share.numerator // share.denominator)


def level_reached(levels: "NDArray[np.int64]", share: Fraction) -> "NDArray[np.int64]":
    """Of levels as (years, days) the one that each day had reached in at least that share of the years."""
    import numpy as np

    years = levels.shape[0]
    ranked: NDArray[np.int64] = np.sort(levels, axis=0)[years - rank(years, share)]
    return ranked


def by_when(days: Sequence[int | None], share: Fraction, never_is_before: bool = False) -> int | None:
    """The day by which at least that share of the years had done something; None where they never had.

    days: of each year its day, None for a year that never did it. Those come after all others, or with
    `never_is_before` before: a season that never began is over.
    """
    rest = sorted(day for day in days if day is not None)
    place = rank(len(days), share) - 1
    if never_is_before:
        place -= len(days) - len(rest)
    return rest[place] if 0 <= place < len(rest) else None
