"""This year against the years before: how many days early or late it is, and how far that can be relied on."""

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from msgspec import Struct

from scheduler.facts import biology

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


class ThisYear(Struct, frozen=True):
    """The season's own year up to `through`, its last day with a reading.

    days_early: days by which its warmth is ahead of the median year, negative where behind.
    error_days, plain_error_days: how far the start of a past year was from what the others' median start foretold,
    in days on average, with that year's days early on the same date and without; None where fewer than two years began.
    days_moved: by how many days the plan's levels are moved: 0 unless that made past years' starts better known, and
    the median year has not begun by `through`.
    """

    days_early: int
    through: date
    error_days: float | None
    plain_error_days: float | None
    days_moved: int


def this_year(
    warmth: "NDArray[np.float64]", reached: "NDArray[np.bool_]", own: float, place: int, through: date
) -> ThisYear:
    """Compares the warmth built up by a day with that of the years.

    warmth, and whether the act level was reached: (years, days of the year). own: this year's warmth on day `place`,
    which is `through`.
    """
    import numpy as np

    early = days_early(np.median(warmth, axis=0), own, place)
    starts = [int(np.argmax(year)) if year.any() else None for year in reached]
    errors = _errors(warmth, starts, place)
    if len(errors) < 2:
        return ThisYear(early, through, None, None, 0)
    with_it, without = (float(np.mean([pair[which] for pair in errors])) for which in (0, 1))
    begun = [start for start in starts if start is not None]
    is_better = without - with_it >= biology().least_gain_days.value
    relied_on = len(errors) >= biology().few_years.value and is_better and place < np.median(begun)
    return ThisYear(early, through, with_it, without, early if relied_on else 0)


def days_early(median: "NDArray[np.float64]", own: float, place: int) -> int:
    """Days from day `place` to the day on which the median year had built up as much warmth, the nearest of several."""
    import numpy as np

    first = int(np.searchsorted(median, own, side="left"))
    last = int(np.searchsorted(median, own, side="right")) - 1
    if first <= last:
        return min(max(place, first), last) - place
    between = np.interp(own, median[max(0, last) : first + 1], np.arange(max(0, last), min(first + 1, median.size)))
    return round(float(between)) - place


def moved(levels: "NDArray[np.int64]", days: int) -> "NDArray[np.int64]":
    """Levels with their rise up to the highest moved so many days earlier (negative: later); the rest stays."""
    import numpy as np

    peak = int(np.argmax(levels))
    places = np.clip(np.arange(levels.size) + days, 0, peak)
    return np.where(np.arange(levels.size) <= peak, levels[places], levels)


def _errors(warmth: "NDArray[np.float64]", starts: Sequence[int | None], place: int) -> list[tuple[int, int]]:
    """Of each year that began: days by which the others foretold its start wrongly, with its warmth and without."""
    import numpy as np

    found = []
    for year, start in enumerate(starts):
        others = [other for at, other in enumerate(starts) if at != year and other is not None]
        if start is None or not others:
            continue
        rest = np.delete(warmth, year, axis=0)
        early = days_early(np.median(rest, axis=0), float(warmth[year, place]), place)
        usual = int(np.median(others))
        found.append((abs(usual - early - start), abs(usual - start)))
    return found
