"""The last day on which each label of the farm may still be used before each sale."""

from collections.abc import Iterator
from datetime import date, timedelta

from msgspec import Struct
from msgspec.structs import replace

from scheduler.labels import Label, Use
from scheduler.plan.uids import Uids
from scheduler.season import Cohort, Season, export_binds, is_for_meat
from scheduler.season.withdrawal import meat_period
from scheduler.words import Purpose, say_days


class RepeatDay(Struct, frozen=True):
    """The last day of a first dose by `use` whose repeat, `after_days` later, is still in time; None: no such day."""

    use: str
    after_days: int
    day: date | None


class LastDay(Struct, frozen=True, kw_only=True):
    """The last day of a last dose by one label; None: no day will do. `counted` says by which days, or why none.

    uid: names sale and label in the calendar, whatever the day; it is no task's.
    """

    uid: str
    label: str
    name: str
    confirmed: bool
    day: date | None
    counted: str
    is_past: bool = False
    repeats: tuple[RepeatDay, ...] = ()


class SaleDays(Struct, frozen=True, kw_only=True):
    """A sale with the last days of every label, in order of label."""

    sale: str
    group: str
    head: int
    day: date
    purpose: Purpose
    labels: tuple[LastDay, ...]


def last_days_of(season: Season) -> tuple[SaleDays, ...]:
    """Sales still to come, by day. Withdrawal counts organic doubling and, for meat sales, export and the margin.

    For store and breeding sales it is the last day after which they go with no withdrawal running: later is lawful,
    but to be declared. Sources: those of the withdrawal rules.
    """
    coming = {cohort.sale: cohort for cohort in reversed(season.cohorts) if cohort.sale is not None}
    sales = sorted(coming.items(), key=lambda item: (item[0].day, item[0].group, item[0].name))
    labels = [label for _, label in sorted(season.farm.labels.items())]
    return tuple(
        SaleDays(
            sale=sale.name,
            group=sale.group,
            head=sale.head,
            day=sale.day,
            purpose=sale.purpose,
            labels=tuple(_last_day(season, cohort, label) for label in labels),
        )
        for sale, cohort in sales
        if sale.day >= season.made_for
    )


def _last_day(season: Season, cohort: Cohort, label: Label) -> LastDay:
    confirmed = label.checked is not None and label.checked <= season.made_for
    days, counted = _withdrawal(season, cohort, label)
    sale = cohort.sale
    uid = Uids(season.settings).named("last-safe-day", label.id, cohort.group.name, "" if sale is None else sale.name)
    found = LastDay(uid=uid, label=label.id, name=label.name, confirmed=confirmed, day=None, counted=counted)
    if days is None or sale is None:
        return found
    margin = season.settings.sale_margin_days if is_for_meat(cohort) else 0
    day = sale.day - timedelta(days=days + 1 + margin)
    if margin:
        counted = f"{counted}, and {say_days(margin)} of margin"
    if day < season.presence.comes(cohort.group):
        return replace(found, counted=f"{counted}: before they are here")
    return replace(
        found,
        day=day,
        counted=counted,
        is_past=day < season.made_for,
        repeats=tuple(_repeats(season, cohort, label, day)),
    )


def _withdrawal(season: Season, cohort: Cohort, label: Label) -> tuple[int | None, str]:
    """The days that bind before the cohort's sale with their name, or None and why there are none."""
    if not any(cohort.group.kind in use.kinds for use in label.uses):
        return None, f"no use for {cohort.group.kind} on this label"
    if not season.holds_here(label):
        return None, "not a label of this country"
    if label.meat == "not-permitted":
        return None, "never for sheep that are to be eaten"
    meat = meat_period(label.meat, season.settings.country, season.settings.organic, ()).days
    if meat is None:
        return None, "meat withdrawal not stated: ask the vet"
    counted = f"{say_days(meat)} for meat{' on an organic farm' if season.settings.organic else ''}"
    if not export_binds(cohort):
        return meat, counted
    if not isinstance(label.export, int):
        return None, "export interval not stated, or export not permitted"
    return (meat, counted) if meat >= label.export else (label.export, f"{say_days(label.export)} for export")


def _repeats(season: Season, cohort: Cohort, label: Label, last: date) -> Iterator[RepeatDay]:
    """Uses whose first dose on the last day would oblige a repeat: that one comes too late, so the first is sooner."""
    for use in label.uses:
        duty = season.repeat_duty(cohort, use, last) if cohort.group.kind in use.kinds else None
        if duty is not None:
            yield RepeatDay(use.id, duty.after_days, _first_in_time(season, cohort, use, last))


def _first_in_time(season: Season, cohort: Cohort, use: Use, last: date) -> date | None:
    first = max(season.presence.comes(cohort.group), season.span.first)
    for back in range((last - first).days + 1):
        day = last - timedelta(days=back)
        duty = season.repeat_duty(cohort, use, day)
        if duty is None or day + timedelta(days=duty.after_days) <= last:
            return day
    return None
