"""Looks at sheep: re-checks after a treatment, regular ones while at risk, and the first day of each target."""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from decimal import Decimal
from functools import cached_property

from scheduler.plan.model import Because, Task
from scheduler.plan.sentences import look_text, opens_text, targets_text, treated_text
from scheduler.plan.uids import Uids
from scheduler.plan.workdays import job_day
from scheduler.season import Cohort, Dose, Doses, Season, all_runs
from scheduler.words import Span, Target, days_of, say_day, say_days, say_number, spans_of

AT_RISK = ("exposed", "covered", "fading")
"""States of days whose level reaches the act level."""


class RiskDays:
    """Which groups are at risk on which days, findings that stand counted."""

    def __init__(self, season: Season, doses: Doses) -> None:
        self._season = season
        self.days: dict[tuple[str, Target], set[date]] = {}
        self.levels: dict[tuple[Target, date], Decimal] = {}
        for run in all_runs(season, doses):
            if run.state in AT_RISK:
                self.days.setdefault((run.cohort.group.name, run.target), set()).update(run.span.days())
                for day in run.span.days():
                    key = (run.target, day)
                    self.levels[key] = max(run.level, self.levels.get(key, run.level))

    def targets(self, groups: Iterable[str], day: date) -> tuple[Target, ...]:
        """Targets that any of the groups is at risk of on the day."""
        named = tuple(groups)
        return tuple(target for target in self._season.targets
                     if any(day in self.days.get((group, target), ()) for group in named))  # fmt: skip

    def groups(self, target: Target, day: date) -> tuple[str, ...]:
        """Groups at risk of the target on the day, by name."""
        return tuple(sorted(group for (group, of), days in self.days.items() if of == target and day in days))

    @cached_property
    def mob_days(self) -> dict[str, set[date]]:
        """Days on which a group of each mob is at risk of any target."""
        found: dict[str, set[date]] = {}
        for (group, _), days in self.days.items():
            for day in days:
                found.setdefault(self._season.presence.mob_of(group, day), set()).add(day)
        return found


def recheck_tasks(season: Season, shown: Iterable[Dose], risk: RiskDays) -> list[Task]:
    """Re-checks, still without uid: one a cohort and day after its treatments, one a mob and day while at risk."""
    treated = _after_treatments(season, shown)
    mobs = [task for mob, days in sorted(risk.mob_days.items()) for task in _of_mob(season, risk, mob, days)]
    return [*treated, *mobs]


def _after_treatments(season: Season, shown: Iterable[Dose]) -> list[Task]:
    found: dict[tuple[str, date], list[Dose]] = {}
    cohorts: dict[str, Cohort] = {}
    for dose in shown:
        due = dose.day + timedelta(days=season.settings.recheck_after_treatment)
        if dose.use.purpose == "treat" and due >= season.made_for and not dose.cohort.has_left(due):
            cohorts[dose.cohort.id] = dose.cohort
            found.setdefault((dose.cohort.id, job_day(season, due)), []).append(dose)
    return [_treated(season, cohorts[name], day, doses) for (name, day), doses in found.items()]


def _treated(season: Season, cohort: Cohort, day: date, doses: Sequence[Dose]) -> Task:
    targets = tuple(target for target in season.targets if any(target in dose.use.targets for dose in doses))
    wait = say_days(season.settings.recheck_after_treatment)
    why = "; ".join(dict.fromkeys(f"{dose.label.id} of {say_day(dose.day)}" for dose in doses))
    return Task(
        uid="",
        kind="recheck",
        day=day,
        cohort=cohort.id,
        group=cohort.group.name,
        head=cohort.head,
        targets=targets,
        text=treated_text(season, cohort, targets),
        because=(Because("infested-now", f"{wait} after {why}."),),
    )


def _of_mob(season: Season, risk: RiskDays, mob: str, days: set[date]) -> Iterator[Task]:
    done: set[date] = set()
    for span in spans_of(days):
        for due in _rhythm(season, span):
            day = job_day(season, due)
            if due >= season.made_for and day not in done:
                done.add(day)
                yield _look(season, risk, mob, due, day, span)


def _rhythm(season: Season, span: Span) -> Iterator[date]:
    """The first day of a run, and every so many days within it."""
    step = max(1, season.settings.recheck_in_season)
    return (day for day in days_of(span.first, span.last) if (day - span.first).days % step == 0)


def _look(season: Season, risk: RiskDays, mob: str, due: date, day: date, span: Span) -> Task:
    names = season.presence.mob_groups(mob, due)
    here = [cohort for cohort in season.cohorts if cohort.group.name in names and season.is_here(cohort, due)]
    groups = tuple(sorted({cohort.group.name for cohort in here}))
    targets = risk.targets(groups, due)
    head = sum(cohort.head for cohort in here)
    return Task(
        uid="",
        kind="recheck",
        day=day,
        group="; ".join(groups),
        head=head,
        targets=targets,
        text=look_text(groups, head, targets),
        because=(Because("cover-gap", f"At risk of {targets_text(targets)} since {say_day(span.first)}."),),
    )


def opening_tasks(season: Season, risk: RiskDays, uids: Uids) -> list[Task]:
    """The first day at risk of each target, once a target."""
    firsts: dict[Target, date] = {}
    for target, day in sorted(risk.levels):
        firsts.setdefault(target, day)
    return [_opening(season, risk, target, firsts[target], uids) for target in season.targets if target in firsts]


def _opening(season: Season, risk: RiskDays, target: Target, day: date, uids: Uids) -> Task:
    level, act = risk.levels[target, day], season.settings.act_level[target]
    origin = season.levels.said_of(target, risk.groups(target, day), day)
    reason = f"Level {say_number(level)} reaches the act level of {say_number(act)}{origin}."
    return Task(
        uid=uids.named("season-opens", target),
        kind="season-opens",
        day=day,
        targets=(target,),
        text=opens_text(target, level, risk.groups(target, day)),
        because=(Because("cover-gap", reason),),
        status="done" if day < season.made_for else "planned",
    )
