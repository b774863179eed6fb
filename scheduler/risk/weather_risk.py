"""The levels that a farm's own weather gives: each target's model run over years of weather, or over monthly means."""

from collections.abc import Callable, Sequence
from functools import cache, cached_property, lru_cache
from typing import TYPE_CHECKING, Generic, Literal, TypeVar

from msgspec import Struct

from scheduler.facts import biology
from scheduler.farm import Farm, NormalMonth, Settings, WeatherDay
from scheduler.risk.daylight import daylight_hours
from scheduler.risk.models import Course, head_fly, strike, ticks
from scheduler.risk.normals import daily_curve
from scheduler.risk.outlook import STEP, Outlook, least_steps
from scheduler.risk.spread import SHARES, level_reached
from scheduler.risk.this_year import ThisYear, moved, this_year
from scheduler.risk.years import YEAR_DAYS, Weather, read_years, year_start
from scheduler.words import Target, plus

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from scheduler.risk.outlook import Steps

    Grid = NDArray[np.float64]
    Model = Callable[[Grid, Grid, Grid], Course]

T = TypeVar("T")
SMOOTHED_DAYS = 15
"""Each year's levels are means of so many days, so that one warm week opens no season by itself."""
_AUSTRALIAN_FLY = ("AU", "NZ", "ZA")
"""Countries whose strike follows Lucilia cuprina."""


class _Same(Struct, Generic[T], frozen=True, eq=False, dict=True):
    """Something that is the same only as itself, so that thousands of rows need not be compared one by one."""

    it: T

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.it is other.it

    def __hash__(self) -> int:
        return id(self.it)


def weather_risk(farm: Farm) -> "WeatherRisk":
    """The outlooks of a farm; those reckoned before for the same tables and settings are taken up."""
    return _weather_risk(_Same(farm.settings), _Same(farm.weather), _Same(farm.normals))


@lru_cache(maxsize=4)
def _weather_risk(
    settings: _Same[Settings], days: _Same[Sequence[WeatherDay]], normals: _Same[Sequence[NormalMonth]]
) -> "WeatherRisk":
    return WeatherRisk(settings.it, days.it, normals.it)


class WeatherRisk:
    """A farm's outlooks from weather.csv, or where that has no whole year from normals.csv."""

    def __init__(self, settings: Settings, days: Sequence[WeatherDay], normals: Sequence[NormalMonth]) -> None:
        self._settings = settings
        self._is_south = settings.latitude < 0
        self._days = days
        self._normals = normals
        self.of = cache(self._of)

    @cached_property
    def _weather(self) -> Weather | None:
        return read_years(self._days, self._settings.start, self._is_south) if self._days else None

    @property
    def notes(self) -> tuple[str, ...]:
        """What was filled or not used of weather.csv, in sentences."""
        return self._weather.notes if self._weather is not None else ()

    @property
    def source(self) -> Literal["weather", "normals"] | None:
        """Which of the two tables the levels come from; None where neither can be used."""
        if self._weather is not None and self._weather.years:
            return "weather"
        return "normals" if self._normals else None

    @property
    def years(self) -> tuple[int, ...]:
        """The years of weather that are used; none with monthly means."""
        return self._weather.years if self._weather is not None else ()

    def _of(self, target: Target) -> Outlook | None:
        """The outlook of a target; None where its risk does not follow the weather, or there is none to use."""
        source = self.source
        model = self._model(target) if source is not None else None
        if source is None or model is None:
            return None
        course = model(*self._by_year)
        by_year = _in_steps(course.levels)
        planned = level_reached(by_year, SHARES[self._settings.caution])
        so_far = self._so_far(model)
        if so_far is None:
            return Outlook(source, self.years, by_year, planned, None, planned[:0], self._is_south)
        now = self._this_year(course, so_far, by_year, target)
        own = _in_steps(so_far.levels)[0]
        return Outlook(source, self.years, by_year, moved(planned, now.days_moved), now, own, self._is_south)

    @cached_property
    def _by_year(self) -> "Grid":
        if self.source == "weather" and self._weather is not None:
            return self._weather.by_year
        return _from_normals(self._normals, self._is_south)

    def _model(self, target: Target) -> "Model | None":
        import numpy as np

        figures = biology()
        # The year of risk begins ten days after the shortest day on either side of the equator: southern days are
        # reckoned as northern ones, so that the same weather half a year apart gives the same season.
        hours = daylight_hours(float(abs(self._settings.latitude)), np.arange(YEAR_DAYS) + 1)
        if target == "blowfly-strike":
            is_cuprina = self._settings.country.partition("-")[0] in _AUSTRALIAN_FLY
            fly = figures.cuprina if is_cuprina else figures.sericata
            return lambda tmin, tmax, rain: strike(fly, tmin, tmax, hours, rain)
        if target == "head-fly":
            return lambda tmin, tmax, rain: head_fly(figures.head_fly, tmin, tmax)
        if target == "ticks":
            return lambda tmin, tmax, rain: ticks(figures.ticks, tmax, hours)
        return None

    def _so_far(self, model: "Model") -> Course | None:
        """The season's own year up to its last reading; None where it has none, or nothing to compare it with."""
        weather = self._weather
        if self.source != "weather" or weather is None or weather.through is None:
            return None
        return model(*weather.own[:, None, :])

    def _this_year(self, course: Course, so_far: Course, by_year: "Steps", target: Target) -> ThisYear:
        own = so_far.warmth[0]
        reached = by_year >= least_steps(self._settings.act_level[target])
        through = plus(year_start(self._settings.start, self._is_south), own.size - 1)
        return this_year(course.warmth, reached, float(own[-1]), own.size - 1, through)


def _in_steps(levels: "Grid") -> "Steps":
    """Levels smoothed over the days around and brought to whole steps, half up."""
    import numpy as np

    half = SMOOTHED_DAYS // 2
    sums = np.cumsum(np.pad(levels, [(0, 0), (half + 1, half)], mode="edge"), axis=1)
    smooth = (sums[:, SMOOTHED_DAYS:] - sums[:, :-SMOOTHED_DAYS]) / SMOOTHED_DAYS
    return np.floor(smooth / float(STEP) + 0.5 + 1e-9).astype(np.int64)


def _from_normals(normals: Sequence[NormalMonth], is_south: bool) -> "Grid":
    import numpy as np

    in_order = sorted(normals, key=lambda month: month.month)
    first = 7 if is_south else 1
    low = daily_curve([float(month.tmin) for month in in_order], first)
    high = daily_curve([float(month.tmax) for month in in_order], first)
    low, high = (np.append(row, row[-1])[None, :] for row in (low, high))
    return np.stack([np.minimum(low, high), high, np.zeros_like(high)])
