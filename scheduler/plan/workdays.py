"""Days on which small jobs fall: the open day before a closed one."""

from datetime import date, timedelta

from scheduler.season import Season, open_day_before


def job_day(season: Season, day: date) -> date:
    """The day for a re-check, preparation or order that is due on `day`: open, but never before made_for."""
    return max(season.made_for, open_day_before(season, day))


def day_before(season: Season, day: date) -> date:
    """The day for a job of the day before."""
    return job_day(season, day - timedelta(days=1))
