"""What this year's weather so far makes of the plan: which tasks it moves, and by how much."""

from collections.abc import Iterable, Iterator
from datetime import date
from itertools import zip_longest

from msgspec import Struct

from scheduler import planner
from scheduler.farm import Farm
from scheduler.plan.earlier import EarlierPlan
from scheduler.plan.model import Plan
from scheduler.plan.past_years import planned_doses, settled_under
from scheduler.plan.settle import Clock
from scheduler.season import Dose, Season
from scheduler.words import Target


class Move(Struct, frozen=True, kw_only=True):
    """A dose or the opening of a season. usual: its day were nothing known of this year; now: as it is; None: none.

    cohort, label, use: of a dose; target: of an opening.
    """

    usual: date | None
    now: date | None
    cohort: str | None = None
    label: str | None = None
    use: str | None = None
    target: Target | None = None


def is_moved(season: Season) -> bool:
    """Whether this year's weather moves the levels of any target."""
    outlooks = [season.levels.outlook(target) for target in season.targets]
    years = [outlook.this_year for outlook in outlooks if outlook is not None]
    return any(year is not None and year.days_moved for year in years)


def moves_of_this_year(
    farm: Farm,
    made_for: date,
    plan: Plan | None,
    earlier: EarlierPlan | None,
    out_of_time: Clock,
    memory: planner.Memory | None = None,
) -> tuple[Move, ...] | None:
    """What differs from the plan of usual levels; None where time ran out first, so that it cannot be said.

    plan: as made with this year's weather; None: made here.
    """
    season = Season(farm, made_for)
    if not is_moved(season):
        return ()
    if plan is None:
        found = settled_under(farm, made_for, None, earlier, out_of_time, memory)
        ours, is_best = [dose for dose in found.doses if dose.is_ours], found.gap is None
    else:
        ours, is_best = list(planned_doses(season, plan.tasks)), plan.gap is None
    usual = settled_under(farm, made_for, "usual", earlier, out_of_time, memory)
    if not is_best or usual.gap is not None:
        return None
    openings = _openings(season, Season(farm, made_for, "usual"))
    return (*openings, *_doses(ours, [dose for dose in usual.doses if dose.is_ours]))


def _openings(now: Season, usual: Season) -> Iterator[Move]:
    for target in now.targets:
        days = _opens(usual, target), _opens(now, target)
        if days[0] != days[1]:
            yield Move(usual=days[0], now=days[1], target=target)


def _opens(season: Season, target: Target) -> date | None:
    return next(
        (day for day in season.span.days() if any(season.is_at_risk(one, target, day) for one in season.cohorts)), None
    )


def _doses(now: Iterable[Dose], usual: Iterable[Dose]) -> Iterator[Move]:
    """Doses of one use to one cohort are compared in order of date."""
    ours, theirs = _series(now), _series(usual)
    for key in sorted(ours.keys() | theirs.keys()):
        for was, is_now in zip_longest(theirs.get(key, ()), ours.get(key, ())):
            if was != is_now:
                yield Move(usual=was, now=is_now, cohort=key[0], label=key[1], use=key[2])


def _series(doses: Iterable[Dose]) -> dict[tuple[str, str, str], list[date]]:
    found: dict[tuple[str, str, str], list[date]] = {}
    for dose in sorted(doses, key=lambda dose: dose.key):
        found.setdefault((dose.cohort.id, dose.label.id, dose.use.id), []).append(dose.day)
    return found
