"""First days on which sheep, milk and fleece may go after a course."""

from datetime import date

from scheduler.plan.model import Clear
from scheduler.season import Course, Season, clear_day, export_binds, meat_days, milk_days

NOTHING_CLEAR = Clear(None, None, None, None)


def clear_of(season: Season, course: Course) -> Clear:
    """Clear dates of a course, counted from its last dose, without the keeper's margin; None where not meant.

    meat: where the label states it (off-label and organic periods counted); milk: where the group's milk is used and
    the label states a number; export: where the interval binds, and then the later of it and meat; wool: where stated.
    """
    last, dose = course.last.day, course.last
    meat = _after(last, meat_days(season, course).days)
    milk = _after(last, milk_days(season, course).days) if dose.cohort.group.milk else None
    export = dose.label.export if isinstance(dose.label.export, int) and export_binds(dose.cohort) else None
    out = _after(last, export)
    return Clear(meat, milk, out and max(out, meat or out), _after(last, dose.label.wool))


def _after(last: date, days: int | None) -> date | None:
    return None if days is None else clear_day(last, days)
