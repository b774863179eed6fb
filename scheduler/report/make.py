"""Puts the scenery of the farm beside the plan."""

from collections.abc import Iterator
from datetime import date

from scheduler.farm import Farm
from scheduler.farm.places import minor_decimals
from scheduler.labels import Label, Use, dose_steps, head_in_lots, lots_of
from scheduler.plan import Plan
from scheduler.report.last_days import last_days_of
from scheduler.report.risk import risk_report
from scheduler.report.view import EventLine, Gather, LabelLine, Parting, SaleLine, SeasonReport, UseLine
from scheduler.season import Season
from scheduler.words import spans_of


def report_of(plan: Plan, farm: Farm, cautions: tuple[str, ...]) -> SeasonReport:
    """The report of a plan made for the farm. cautions: whole sentences, in the order in which they are to be read."""
    settings = farm.settings
    season = Season(farm, plan.made_for)
    targets = dict.fromkeys(run.target for run in plan.days)
    closed = {day for entry in settings.closed for day in entry.days if plan.start <= day <= plan.end}
    return SeasonReport(
        plan=plan,
        exponent=minor_decimals(settings.currency),
        holding=settings.holding,
        organic=settings.organic,
        events=tuple(_events(plan, farm)),
        sales=tuple(
            SaleLine(name=s.name, group=s.group, head=s.head, day=s.day, purpose=s.purpose) for s in farm.sales
        ),
        closed=spans_of(closed),
        gathers=tuple(_gathers(plan, season)),
        labels=tuple(_label_line(farm.labels[name], plan.made_for) for name in _labels_used(plan, farm)),
        act_levels=tuple((target, settings.act_level[target]) for target in targets),
        remind=settings.remind,
        cautions=cautions,
        last_days=last_days_of(season),
        partings=tuple(_partings(plan, season)),
        risk=risk_report(season),
    )


def _events(plan: Plan, farm: Farm) -> Iterator[EventLine]:
    for event in sorted(farm.events, key=lambda event: (event.first, event.what, event.groups)):
        if event.first <= plan.end and event.last >= plan.start:
            yield EventLine(what=event.what, first=event.first, last=event.last, groups=event.groups, note=event.note)


def _gathers(plan: Plan, season: Season) -> Iterator[Gather]:
    """The gathers of planned doses, by day and mob."""
    groups = {cohort.id: cohort.group for cohort in plan.cohorts}
    brought: dict[tuple[date, str], list[str]] = {}
    for task in plan.tasks:
        if task.kind == "dose" and task.status == "planned" and task.cohort in groups:
            mob = season.presence.mob_of(groups[task.cohort], task.day)
            brought.setdefault((task.day, mob), []).append(task.cohort)
    for (day, mob), cohorts in sorted(brought.items()):
        event = season.presence.gather_event(mob, day)
        yield Gather(
            mob=mob, day=day, cohorts=tuple(dict.fromkeys(cohorts)), event=None if event is None else event.what
        )


def _partings(plan: Plan, season: Season) -> Iterator[Parting]:
    """Of planned first doses: a repeat has one dose whatever the weight."""
    for task in plan.tasks:
        if task.kind != "dose" or task.status != "planned" or task.repeat_of is not None or task.group is None:
            continue
        label, weight = season.farm.labels.get(task.label or ""), season.weights.on(task.group, task.day)
        use = label.use(task.use or "") if label else None
        if use is not None and weight.lightest is not None and weight.heaviest is not None:
            lots = lots_of(use, weight.lightest, weight.heaviest)
            if len(lots) > 1:
                yield Parting(task.uid, tuple(zip(lots, head_in_lots(task.head or 0, lots), strict=True)))


def _labels_used(plan: Plan, farm: Farm) -> list[str]:
    """Labels of tasks that are not called off, and of the shopping, by name, as far as the farm still has them."""
    named = {task.label for task in plan.tasks if task.status != "cancelled"}
    named |= {line.label for line in plan.shopping}
    return sorted(name for name in named if name is not None and name in farm.labels)


def _label_line(label: Label, made_for: date) -> LabelLine:
    return LabelLine(
        id=label.id,
        name=label.name,
        active=label.active,
        chemical_group=label.chemical_group,
        form=label.form,
        confirmed=label.checked is not None and label.checked <= made_for,
        checked=label.checked,
        edition=label.edition,
        prescription=label.prescription,
        meat=label.meat,
        milk=label.milk,
        export=label.export,
        wool=label.wool,
        handling_days=label.handling_days,
        uses=tuple(_use_line(use) for use in label.uses),
    )


def _use_line(use: Use) -> UseLine:
    return UseLine(
        id=use.id,
        targets=use.targets,
        method=use.method,
        dry_hours_before=use.dry_hours_before,
        dry_hours_after=use.dry_hours_after,
        doses=dose_steps(use),
    )
