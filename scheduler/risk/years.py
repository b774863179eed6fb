"""Weather as whole years: which can be used, what was filled, and the season's own year so far."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING

from msgspec import Struct

from scheduler.facts import biology
from scheduler.farm import WeatherDay
from scheduler.words import Span, plus, say_day, say_days, spans_of

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Grid = NDArray[np.float64]

YEAR_DAYS = 366
SHOWN = 5
"""Most days or runs of days named in a note."""


class Weather(Struct, frozen=True):
    """Temperatures (°C) and rain (mm) of whole years and of the season's own year.

    by_year: (lowest, highest, rain) of each year, as (3, years, 366 days), the 366th of a common year as the 365th;
    rain is 0 where it is not given. years: the calendar years in which these begin. own: (3, days) of the season's own
    year up to `through`, its last day with a reading; empty where there is none. notes: what was filled or not used.
    """

    years: tuple[int, ...]
    by_year: "Grid"
    own: "Grid"
    through: date | None
    notes: tuple[str, ...]


def year_start(day: date, is_south: bool) -> date:
    """The first day of the year of risk that holds a day: 1 January in the north, 1 July in the south."""
    if not is_south:
        return date(day.year, 1, 1)
    return date(day.year if day.month >= 7 else max(1, day.year - 1), 7, 1)


def read_years(days: Sequence[WeatherDay], own: date, is_south: bool) -> Weather:
    """The years of these days (at least one). `own`: first day of the season, whose year is not among the years."""
    import numpy as np

    first, readings = _grid(days)
    filled, gaps = _filled(readings)
    notes = [_said_filled(first, gaps)] if gaps else []
    own_start = year_start(own, is_south)
    found: dict[int, Grid] = {}
    lost: list[date] = []
    for start in _starts(first, plus(first, readings.shape[1] - 1), is_south):
        year = _part(filled, first, start, year_start(plus(start, YEAR_DAYS), is_south))
        if start == own_start:
            continue
        if np.isnan(year).any():
            lost.append(start)
        else:
            found[start.year] = year
    if lost:
        notes += _said_lost(lost, _lacking(filled, first, is_south), is_south)
    years = np.stack([_leap(year) for year in found.values()]) if found else np.empty((0, 3, YEAR_DAYS))
    so_far = _so_far(filled, first, own_start)
    through = plus(own_start, so_far.shape[1] - 1) if so_far.shape[1] else None
    return Weather(tuple(found), years.swapaxes(0, 1), so_far, through, tuple(notes))


def years_text(years: Sequence[int], is_south: bool = False) -> str:
    """The years in words: 2012, 2012 to 2015, or those years with what is missing between them left out.

    is_south: as years that begin in July, 2012/13.
    """
    runs: list[list[int]] = []
    for year in sorted(years):
        if runs and runs[-1][-1] == year - 1:
            runs[-1].append(year)
        else:
            runs.append([year])
    names = ([_name(year, is_south) for year in dict.fromkeys((run[0], run[-1]))] for run in runs)
    return ", ".join(" to ".join(name) for name in names)


def _grid(days: Sequence[WeatherDay]) -> "tuple[date, Grid]":
    """The first day, and from it on both temperatures of every day, NaN where there are none, and its rain."""
    import numpy as np

    at = np.array([day.day.toordinal() for day in days])
    readings = np.full((3, int(at.max() - at.min()) + 1), np.nan)
    readings[2] = 0
    readings[0, at - at.min()] = [float(day.tmin) for day in days]
    readings[1, at - at.min()] = [float(day.tmax) for day in days]
    readings[2, at - at.min()] = [float(day.rain or 0) for day in days]
    return date.fromordinal(int(at.min())), readings


def _filled(readings: "Grid") -> "tuple[Grid, list[tuple[int, int]]]":
    """Short gaps filled in a straight line from the day before to the day after; (place, days) of each."""
    import numpy as np

    known = np.flatnonzero(~np.isnan(readings[0]))
    lengths = np.diff(known) - 1
    gaps = [(int(place) + 1, int(length)) for place, length in zip(known[:-1], lengths, strict=True)
            if 0 < length <= biology().gap_days.value]  # fmt: skip
    filled = readings.copy()
    for place, length in gaps:
        at = np.arange(place, place + length)
        for row in filled[:2]:
            row[at] = np.interp(at, [place - 1, place + length], [row[place - 1], row[place + length]])
    return filled, gaps


def _starts(first: date, last: date, is_south: bool) -> list[date]:
    starts = [year_start(first, is_south)]
    while (following := year_start(plus(starts[-1], YEAR_DAYS), is_south)) <= last and following > starts[-1]:
        starts.append(following)
    return starts


def _part(readings: "Grid", first: date, start: date, end: date) -> "Grid":
    """Readings from `start` to the day before `end`, NaN beyond those there are."""
    import numpy as np

    part = np.full((3, (end - start).days), np.nan)
    offset = (start - first).days
    low = max(0, offset)
    high = max(low, min(readings.shape[1], offset + part.shape[1]))
    part[:, low - offset : high - offset] = readings[:, low:high]
    return part


def _so_far(readings: "Grid", first: date, start: date) -> "Grid":
    """Readings of the year that begins on `start`, up to the first day without one."""
    import numpy as np

    year = _part(readings, first, start, plus(start, YEAR_DAYS - 1))
    lacking = np.isnan(year).any(axis=0)
    return year[:, : int(np.argmax(lacking)) if lacking.any() else year.shape[1]]


def _leap(year: "Grid") -> "Grid":
    import numpy as np

    return year if year.shape[1] == YEAR_DAYS else np.concatenate([year, year[:, -1:]], axis=1)


def _lacking(filled: "Grid", first: date, is_south: bool) -> tuple[Span, ...]:
    """Runs of days without a reading, with those before the first and after the last in the years of these."""
    import numpy as np

    start = year_start(first, is_south)
    end = year_start(plus(_starts(first, plus(first, filled.shape[1] - 1), is_south)[-1], YEAR_DAYS), is_south)
    days = np.flatnonzero(np.isnan(_part(filled, first, start, end)[0]))
    return spans_of(plus(start, int(place)) for place in days)


def _name(year: int, is_south: bool) -> str:
    return f"{year}/{(year + 1) % 100:02}" if is_south else str(year)


def _said_filled(first: date, gaps: list[tuple[int, int]]) -> str:
    days = sum(length for _, length in gaps)
    shown = _some(say_day(plus(first, place)) for place, _ in gaps)
    were = "1 day without a reading was" if days == 1 else f"{days} days without a reading were"
    return f"Weather: {were} filled from the days around it: {shown}."


def _said_lost(lost: Sequence[date], lacking: Sequence[Span], is_south: bool) -> Iterator[str]:
    """One sentence for all years that are not used for the same reason, with the days that weather.csv lacks.

    What is left after filling is a long gap, or a short one with readings on one side alone.
    """
    most = int(biology().gap_days.value)
    reasons: dict[str, tuple[list[int], list[Span]]] = {}
    for start in lost:
        end = plus(year_start(plus(start, YEAR_DAYS), is_south), -1)
        spans = [span for span in lacking if span.first <= end and span.last >= start]
        is_long = any(len(span) > most for span in spans)
        reason = f"more than {say_days(most)} in a row have no reading" if is_long else _AT_AN_END
        years, days = reasons.setdefault(reason, ([], []))
        years.append(start.year)
        days += [span for span in spans if span not in days]
    for reason, (years, days) in reasons.items():
        are = "is" if len(years) == 1 else "are"
        shown = _some(_said_span(span) for span in days)
        yield f"Weather: {years_text(years, is_south)} {are} not used: {reason} ({shown})."


_AT_AN_END = "days where weather.csv begins or ends have no reading"


def _some(said: Iterable[str]) -> str:
    """The first few of them."""
    every = list(said)
    return ", ".join(every[:SHOWN]) + (", …" if len(every) > SHOWN else "")


def _said_span(span: Span) -> str:
    return say_day(span.first) if span.first == span.last else f"{say_day(span.first)} to {say_day(span.last)}"
