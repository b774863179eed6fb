"""The year of each target from its weather: one model a target, its figures in facts/biology.toml.

Every model takes daily temperatures as (years, days from the start of the year), and the hours of daylight of each day
of a whole year; it gives levels from 0 to 1 of the shape of the temperatures, which may end before the year does. The
year starts in winter: on 1 January in the north, on 1 July in the south.
"""

from typing import TYPE_CHECKING

from msgspec import Struct

from scheduler.facts import FlyFigures, HeadFlyFigures, TickFigures, biology
from scheduler.risk.heat import degree_days

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Grid = NDArray[np.float64]

FORTNIGHT, WEEK = 14, 7


class Course(Struct, frozen=True):
    """What a model makes of weather. warmth: what has built up since the start of the year, by which years compare."""

    levels: "Grid"
    warmth: "Grid"


def strike(fly: FlyFigures, tmin: "Grid", tmax: "Grid", hours: "Grid", rain: "Grid | None" = None) -> Course:
    """Blowfly strike: how many flies there are by heat, times how active they are, times what day length leaves.

    The flies that come out of winter are the part `overwintered` of the number; the next generation makes it full. A
    fortnight of much rain (mm a day) raises the level.
    """
    import numpy as np

    days = np.arange(tmin.shape[-1])
    is_warm = (trailing_mean((tmin + tmax) / 2, FORTNIGHT) >= fly.resume.value) & (days >= fly.resume_day.value)
    heat = degree_days(tmin, tmax, fly.base.value) * np.maximum.accumulate(is_warm, axis=-1)
    warmth = np.cumsum(heat, axis=-1)
    levels = _number(fly, warmth) * _activity(tmin, tmax, fly.adult_base.value, fly.full_activity.value)
    if fly.fade_from is not None and fly.fade_to is not None:
        is_autumn = days > int(np.argmax(hours))
        fade = ramp(hours[: days.size], fly.fade_to.value, fly.fade_from.value)
        levels = levels * np.where(is_autumn, fade, 1.0)
    return Course(levels if rain is None else np.minimum(levels * _wetness(rain), 1.0), warmth)


def head_fly(fly: HeadFlyFigures, tmin: "Grid", tmax: "Grid") -> Course:
    """Head fly: the one generation of the year comes and goes by heat, and bothers sheep in warm weather."""
    import numpy as np

    warmth = np.cumsum(degree_days(tmin, tmax, fly.base.value), axis=-1)
    rise = ramp(warmth, fly.first.value, fly.most.value)
    fall = ramp(warmth, fly.fewer.value, fly.last.value)
    return Course(rise * (1 - fall) * _activity(tmin, tmax, fly.adult_base.value, fly.full_activity.value), warmth)


def ticks(tick: TickFigures, tmax: "Grid", hours: "Grid") -> Course:
    """Sheep tick: neither cold nor heat nor short days; a wave in spring, and a lesser one in autumn."""
    import numpy as np

    weekly = trailing_mean(tmax, WEEK)
    waiting = ramp(weekly, tick.none_below.value, tick.all_from.value)
    withdrawn = ramp(weekly, tick.fewer_from.value, tick.few_from.value) * (1 - tick.summer_share.value)
    after = np.arange(tmax.shape[-1]) - int(np.argmax(hours))
    turns = [0.0, tick.spent_from.value, tick.spent_to.value, tick.autumn_from.value]
    wave = np.interp(after, turns, [1.0, tick.spent_share.value, tick.spent_share.value, tick.autumn_share.value])
    levels = waiting * (1 - withdrawn) * wave * ramp(hours[: after.size], tick.day_stops.value, tick.day_starts.value)
    return Course(levels, np.cumsum(np.maximum(tmax - tick.none_below.value, 0.0), axis=-1))


def ramp(values: "Grid", low: float, high: float) -> "Grid":
    """0 up to `low`, 1 from `high` on, in a straight line between."""
    import numpy as np

    return np.clip((values - low) / (high - low), 0.0, 1.0)


def trailing_mean(values: "Grid", days: int) -> "Grid":
    """Mean of each day and those before it, so many in all; of as many as there are at the start."""
    import numpy as np

    sums = np.cumsum(values, axis=-1)
    sums[..., days:] = sums[..., days:] - sums[..., :-days]
    return sums / np.minimum(np.arange(1, values.shape[-1] + 1), days)


def _number(fly: FlyFigures, warmth: "Grid") -> "Grid":
    first, part, spread = fly.emergence.value, fly.overwintered.value, fly.spread.value
    second = first + fly.generation.value
    return part * ramp(warmth, first, first + spread) + (1 - part) * ramp(warmth, second, second + spread)


def _wetness(rain: "Grid") -> "Grid":
    sheep = biology().sheep
    fortnight = trailing_mean(rain, FORTNIGHT) * FORTNIGHT
    return 1 + (sheep.wet.value - 1) * ramp(fortnight, sheep.wet_from.value, sheep.wet_to.value)


def _activity(tmin: "Grid", tmax: "Grid", base: float, full: float) -> "Grid":
    return ramp(trailing_mean(degree_days(tmin, tmax, base), FORTNIGHT), 0.0, full)
