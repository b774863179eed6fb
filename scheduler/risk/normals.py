"""A day's temperature from the means of the months."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def daily_curve(monthly: Sequence[float], first_month: int = 1) -> "NDArray[np.float64]":
    """365 daily values from the first day of `first_month` on, whose mean over each month is that month's of `monthly`.

    monthly: twelve means, January to December. The curve runs in straight lines from the middle of one month to the
    middle of the next, round the year; the values at the middles are those that keep the means.
    """
    import numpy as np

    ends = np.cumsum(MONTH_DAYS)
    middles = ends - np.asarray(MONTH_DAYS) / 2
    days = np.arange(365) + 0.5
    # Each day's value is a weighted mean of two middles: the columns are what each middle gives to every day.
    gives = np.stack([np.interp(days, middles, unit, period=365) for unit in np.eye(12)], axis=1)
    means = np.stack([part.mean(axis=0) for part in np.split(gives, ends[:-1])])
    curve = gives @ np.linalg.solve(means, np.asarray(monthly, dtype=np.float64))
    return np.roll(curve, -int(np.concatenate([[0], ends])[first_month - 1]))
