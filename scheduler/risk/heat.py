"""Degree-days: the heat of a day above a threshold, from its lowest and highest temperature."""

import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Literal, get_args

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray

    Grid = NDArray[np.float64]

Method = Literal["average", "single_triangle", "double_triangle", "single_sine", "double_sine", "conditional"]
Cutoff = Literal["horizontal", "vertical", "intermediate"]

_BLOCK = 16_384
"""Days taken at a time: few enough to stay in the processor's cache."""


def degree_days(
    tmin: "ArrayLike",
    tmax: "ArrayLike",
    lower: float,
    upper: float | None = None,
    method: Method = "single_sine",
    cutoff: Cutoff = "horizontal",
) -> "Grid":
    """Degree-days of each day between two thresholds, never below 0, in the unit of the temperatures times days.

    tmin, tmax: temperatures of one unit (°C throughout this program), of any shape (..., days), or of shapes that NumPy
    broadcasts to one; the answer has that shape. A day with NaN for either stays NaN.
    method: the course of the day. `average` takes the mean of the two readings, each cut down to `upper` first;
    `conditional` is the four-case rule; triangle and sine run up and down between the readings, and their double
    forms fall to the next day's minimum (where none is known, as on the last day, to the day's own).
    cutoff: what heat above `upper` counts: `horizontal` as at the threshold, `vertical` nothing, `intermediate` as at
    the threshold less what is above it (the hours above it together never less than nothing). Without `upper` it
    makes no difference.
    Raises ValueError for unknown words, a threshold that is no finite number, lower above upper, and a day with tmin
    above tmax (in weather.csv that is a fault, and never comes here).
    Sources: single-sine, conditional-degree-days in facts/sources.toml; held to published tables in tests/outside.
    """
    import numpy as np

    _check_words(method, cutoff)
    _check_thresholds(lower, upper)
    low, high = np.broadcast_arrays(np.asarray(tmin, dtype=np.float64), np.asarray(tmax, dtype=np.float64))
    if bool(np.any(low > high)):
        raise ValueError("tmin is above tmax on some day")
    end = _next_minimum(low) if method.startswith("double") else low
    lows, highs, ends = low.ravel(), high.ravel(), end.ravel()
    heat = np.empty(low.size)
    for start in range(0, low.size, _BLOCK):
        block = slice(start, start + _BLOCK)
        heat[block] = _heat(method, lows[block], highs[block], ends[block], lower, upper, cutoff)
    return heat.reshape(low.shape)[()]


def _check_words(method: str, cutoff: str) -> None:
    for given, known in ((method, get_args(Method)), (cutoff, get_args(Cutoff))):
        if given not in known:
            raise ValueError(f'"{given}" is none of: {", ".join(known)}')


def _check_thresholds(lower: float, upper: float | None) -> None:
    for threshold in (lower, upper):
        if threshold is not None and not math.isfinite(threshold):
            raise ValueError(f"a threshold must be a finite number, not {threshold}")
    if upper is not None and lower > upper:
        raise ValueError(f"the lower threshold, {lower}, is above the upper one, {upper}")


def _next_minimum(low: "Grid") -> "Grid":
    """Each day's next minimum; its own where the next is not known."""
    import numpy as np

    end = low.copy()
    if low.ndim:
        end[..., :-1] = low[..., 1:]
    return np.where(np.isnan(end), low, end)


def _heat(
    method: Method, low: "Grid", high: "Grid", end: "Grid", lower: float, upper: float | None, cutoff: Cutoff
) -> "Grid":
    import numpy as np

    heat = _between(method, low, high, lower, upper, cutoff)
    if method.startswith("double"):
        falling = _between(method, np.minimum(end, high), np.maximum(end, high), lower, upper, cutoff)
        heat = (heat + falling) / 2
    return np.maximum(heat, 0.0)


def _between(method: Method, low: "Grid", high: "Grid", lower: float, upper: float | None, cutoff: Cutoff) -> "Grid":
    """Heat of a run between two temperatures; of `average` it may be below 0, which the day is not."""
    import numpy as np

    above = _ABOVE[method.rpartition("_")[2]]
    heat, _ = above(low, high, lower)
    if upper is None:
        return heat
    over, share = (_readings_above if method == "average" else above)(low, high, upper)
    if cutoff == "horizontal":
        return heat - over
    below = heat - over - (upper - lower) * share
    return below if cutoff == "vertical" else below + np.maximum((upper - lower) * share - over, 0.0)


# Each gives the heat above a threshold, and the share of the day that is above it.


def _mean_above(low: "Grid", high: "Grid", threshold: float) -> "tuple[Grid, Grid]":
    # Negative where the mean is below: what the cut-down readings lack is taken off before the day is held at 0.
    heat = (low + high) / 2 - threshold
    return heat, (heat > 0).astype(heat.dtype)


def _readings_above(low: "Grid", high: "Grid", threshold: float) -> "tuple[Grid, Grid]":
    import numpy as np

    over = (np.maximum(low - threshold, 0) + np.maximum(high - threshold, 0)) / 2
    return over, ((low > threshold).astype(low.dtype) + (high > threshold)) / 2


def _triangle_above(low: "Grid", high: "Grid", threshold: float) -> "tuple[Grid, Grid]":
    import numpy as np

    width = high - low
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.clip((high - threshold) / width, 0.0, 1.0)
    share = np.where(width == 0, high > threshold, share)
    return share * (np.maximum(low, threshold) + high - 2 * threshold) / 2, share


def _sine_above(low: "Grid", high: "Grid", threshold: float) -> "tuple[Grid, Grid]":
    import numpy as np

    mean, swing = (low + high) / 2, (high - low) / 2
    with np.errstate(divide="ignore", invalid="ignore"):
        height = np.clip((threshold - mean) / swing, -1.0, 1.0)
    height = np.where(swing == 0, np.where(mean > threshold, -1.0, 1.0), height)
    share = np.arccos(height) / math.pi
    return share * (mean - threshold) + swing * np.sqrt(1 - height * height) / math.pi, share


def _conditional_above(low: "Grid", high: "Grid", threshold: float) -> "tuple[Grid, Grid]":
    import numpy as np

    mean = (low + high) / 2
    cases = [np.isnan(mean), low >= threshold, high <= threshold, mean >= threshold]
    heats = [mean, mean - threshold, np.zeros_like(mean), (high - threshold) / 2 - (threshold - low) / 4]
    return np.select(cases, heats, (high - threshold) / 4), np.select(cases, [mean, 1.0, 0.0, 0.75], 0.25)


_ABOVE: "dict[str, Callable[[Grid, Grid, float], tuple[Grid, Grid]]]" = {
    "average": _mean_above,
    "triangle": _triangle_above,
    "sine": _sine_above,
    "conditional": _conditional_above,
}
