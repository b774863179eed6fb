"""The risk of each target over the season: where its levels come from, its dates, and how this year runs."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from itertools import groupby

from scheduler.facts import facts
from scheduler.report.risk_view import Modified, RiskDay, RiskReport, RiskRun, TargetRisk
from scheduler.report.sentences import number_text, span_text
from scheduler.risk import Dates, Modifier, Outlook, ends_of, starts_of
from scheduler.season import Season, this_year_text
from scheduler.words import Target, say_day, two_decimals

ON_RISK = ("vet-and-law", "label-as-filed", "look-at-the-sheep")
"""Of the cautions that always hold, those that levels of risk by themselves call for."""


SOURCES = {
    "risk.csv": "your own rows of risk.csv",
    "weather": "weather",
    "normals": "monthly means (normals)",
    "default": "the built-in monthly table for the latitude: a guess, write your own days at risk",
}


def origin_words(risk: TargetRisk) -> str:
    """Where the levels come from, with the years."""
    return SOURCES[risk.source] + (f" of {risk.years[0]} to {risk.years[1]}" if risk.years else "")


def risk_words(risk: TargetRisk) -> Iterator[str]:
    """When the season begins and ends, how this year runs, and which groups differ: whole sentences."""
    if risk.starts.early is None and risk.ends.late is None:
        yield "The act level is not reached this season."
    elif risk.days:
        yield f"Begins by {_dates(risk.starts)}. Ends by {_dates(risk.ends)}."
    elif risk.starts.early is not None and risk.ends.late is not None:
        yield f"First day at risk {say_day(risk.starts.early)}, last {say_day(risk.ends.late)}, of any group."
    if risk.this_year is not None:
        said = this_year_text(risk.this_year)
        yield said[0].upper() + said[1:]
    yield from (modified_words(found) for found in risk.modified)


def _dates(dates: Dates) -> str:
    days = ["not at all" if day is None else say_day(day) for day in (dates.early, dates.middle, dates.late)]
    return f"{days[0]} in 1 year of 5, {days[1]} in the median year, {days[2]} in 4 years of 5"


def risk_report(season: Season) -> RiskReport:
    """The risk of the farm's own targets. Those that only a finding added are left out: they have no levels."""
    settings = season.settings
    always = {caution.id: caution.text for caution in facts().cautions_for()}
    return RiskReport(
        farm=settings.name,
        made_for=season.made_for,
        start=settings.start,
        end=settings.end,
        caution=settings.caution,
        targets=tuple(_target(season, target) for target in season.targets if target in settings.targets),
        notes=(*season.farm.left_out, *season.level_notes),
        cautions=tuple(always[name] for name in ON_RISK),
    )


def modified_words(found: Modified) -> str:
    """Which groups differ from the place, from when to when, by how much, and why."""
    how = f"{number_text(found.times)} times the level of the place"
    return f"{'; '.join(found.groups)}: {how}, {span_text(found.first, found.last)}: {found.why}."


def _target(season: Season, target: Target) -> TargetRisk:
    import numpy as np

    outlook = season.levels.outlook(target)
    act = season.settings.act_level[target]
    runs = _runs(season, target)
    first = season.span.first
    if outlook is not None:
        reached = np.logical_or.reduce([
            season.levels.reached_in_years(target, group.name, list(season.span.days()), act)
            for group in season.farm.groups
        ])  # fmt: skip
        starts, ends = starts_of(reached, first), ends_of(reached, first)
    else:
        at_risk = [run for run in runs if season.reaches_act_level(target, run.level)]
        begins = min((run.first for run in at_risk), default=None)
        is_over = max((run.last for run in at_risk), default=None)
        starts, ends = Dates(begins, begins, begins), Dates(is_over, is_over, is_over)
    years = outlook.years if outlook is not None else ()
    return TargetRisk(
        target=target,
        source=season.levels.source(target),
        act_level=act,
        years=(years[0], years[-1]) if years else None,
        starts=starts,
        ends=ends,
        this_year=None if outlook is None else outlook.this_year,
        runs=runs,
        days=_days(season, outlook) if outlook is not None and years else (),
        modified=_modified(season, target),
    )


def _runs(season: Season, target: Target) -> tuple[RiskRun, ...]:
    """Groups whose levels are the same all season stand together."""
    days = list(season.span.days())
    alike: dict[tuple[Decimal, ...], list[str]] = {}
    for group in season.farm.groups:
        levels = tuple(two_decimals(season.levels.on(target, group.name, day)) for day in days)
        alike.setdefault(levels, []).append(group.name)
    return tuple(run for levels, groups in alike.items() for run in _spans(tuple(groups), days, levels))


def _spans(groups: tuple[str, ...], days: list[date], levels: tuple[Decimal, ...]) -> list[RiskRun]:
    runs: list[RiskRun] = []
    for day, level in zip(days, levels, strict=True):
        begins = runs[-1].first if runs and runs[-1].level == level else day
        if begins != day:
            runs.pop()
        runs.append(RiskRun(groups, begins, day, level))
    return runs


def _modified(season: Season, target: Target) -> tuple[Modified, ...]:
    """Groups that differ from the place in the same way on the same days stand together."""
    alike: dict[tuple[date, date, Modifier], list[str]] = {}
    for group in season.farm.groups:
        days = ((season.levels.modifier(target, group.name, day), day) for day in season.span.days())
        for modifier, same in groupby(days, key=lambda item: item[0]):
            if modifier is not None:
                span = [day for _, day in same]
                alike.setdefault((span[0], span[-1], modifier), []).append(group.name)
    return tuple(
        Modified(tuple(groups), first, last, modifier.times, modifier.why)
        for (first, last, modifier), groups in alike.items()
    )


def _days(season: Season, outlook: Outlook) -> tuple[RiskDay, ...]:
    return tuple(
        RiskDay(
            day=day,
            planned=outlook.level(day),
            high=outlook.level_in("high", day),
            middle=outlook.level_in("middle", day),
            low=outlook.level_in("low", day),
            own=outlook.level_so_far(day),
        )
        for day in season.span.days()
    )
