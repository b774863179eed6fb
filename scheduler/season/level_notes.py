"""What must be said of levels that weather gives: which years, how sure, and how this year runs."""

from collections.abc import Iterator, Sequence

from scheduler.facts import biology
from scheduler.farm import Caution
from scheduler.risk import ThisYear, years_text
from scheduler.season.levels import Levels
from scheduler.words import Target, say_day, say_days

_REACHED: dict[Caution, str] = {
    "high": "as reached in 1 year of 5",
    "middle": "as in the median year",
    "low": "as reached in 4 years of 5",
}


def level_notes(levels: Levels, targets: Sequence[Target], caution: Caution) -> tuple[str, ...]:
    """Sentences on the levels of these targets that come from weather; none where no level does."""
    followed = [target for target in targets if levels.outlook(target) is not None]
    return tuple(_notes(levels, followed, caution)) if followed else ()


def _notes(levels: Levels, targets: Sequence[Target], caution: Caution) -> Iterator[str]:
    weather, named = levels.weather, ", ".join(targets)
    if weather.source == "normals":
        yield (
            f"Levels of {named} are reckoned from the monthly means of normals: one usual year, "
            "with nothing known of how years differ."
        )
    else:
        years = len(weather.years)
        yield f"Levels of {named} are reckoned from weather of {years_text(weather.years)}, {_REACHED[caution]}."
        if years < biology().few_years.value:
            yield (
                f"Only {years} whole year{'s' if years > 1 else ''} of weather: how far years differ is hardly known; "
                f"{biology().few_years.value:.0f} or more are better."
            )
    yield from weather.notes
    for target in targets:
        outlook = levels.outlook(target)
        if outlook is not None and outlook.this_year is not None:
            yield f"{target}: {this_year_text(outlook.this_year)}"


def this_year_text(now: ThisYear) -> str:
    """How many days early or late this year is, how far that can be relied on, and what the plan makes of it."""
    early = now.days_early
    how = f"{say_days(abs(early))} {'early' if early > 0 else 'late'}" if early else "neither early nor late"
    said = f"up to {say_day(now.through)} this year is {how} by its warmth."
    if now.error_days is None or now.plain_error_days is None:
        return f"{said} How far that foretells the season cannot be said from so few years; levels are not moved."
    errors = (
        f" In past years the same reckoning missed the start by {now.error_days:.1f} days on average, "
        f"the median start alone by {now.plain_error_days:.1f}:"
    )
    return said + errors + (" levels are moved by as much." if now.days_moved else " levels are not moved.")
