"""Ways out for a wish that a rule does not let stand: another day for it, or another use on that day."""

from collections.abc import Iterator
from dataclasses import replace

from scheduler.farm import Wish
from scheduler.plan.model import Choice
from scheduler.plan.options import Options
from scheduler.plan.replans import Replanned, Replans
from scheduler.rules import Breach
from scheduler.season import Cohort, Dose, Season
from scheduler.words import plus, say_day, say_days

FARTHEST = 28
"""Days to either side of a wish on which another day is looked for: our own measure, no source."""
TRIES = 2
"""Farms planned to find each way."""


def ways_of_wish(replans: Replans, breach: Breach) -> Iterator[Choice]:
    """The nearest lawful day for the wish, and the cheapest other use on its day, each with its price."""
    season, dose = replans.season, breach.dose
    wish = None if dose is None else next((row for row in season.farm.wishes if row.where == dose.where), None)
    if dose is None or wish is None or dose.first_day is not None or _has_repeat(season, wish):
        return
    options = Options(season, dose.cohort, season.record.of(dose.cohort))
    yield from _on_another_day(replans, wish, dose, options)
    yield from _by_another_use(replans, wish, dose, options)


def _on_another_day(replans: Replans, wish: Wish, dose: Dose, options: Options) -> Iterator[Choice]:
    near = (plus(wish.day, way * days) for days in range(1, FARTHEST + 1) for way in (-1, 1))
    lawful = [day for day in near if any(options.courses_on(dose.label, dose.use, day))]
    for day in lawful[:TRIES]:
        again = _with(replans, wish, replace(wish, day=day), dose.cohort)
        if again is not None:
            moved = (day - wish.day).days
            how_far = f"{say_days(abs(moved))} {'later' if moved > 0 else 'sooner'}"
            yield replans.choice(again, "move-dose", f"give it on {say_day(day)}, {how_far}")
            return


def _by_another_use(replans: Replans, wish: Wish, dose: Dose, options: Options) -> Iterator[Choice]:
    others = [
        (label, use)
        for label, use in replans.season.uses()
        if set(use.targets) & set(dose.use.targets)
        and (label.id, use.id) != (wish.label, wish.use)
        and any(options.courses_on(label, use, wish.day))
    ]
    found = []
    for label, use in others[:TRIES]:
        again = _with(replans, wish, replace(wish, label=label.id, use=use.id), dose.cohort)
        if again is not None:
            text = f"use {label.name}, {use.id}, on that day instead"
            found.append(replans.choice(again, "other-use", text))
    yield from sorted(found, key=lambda one: (one.exposed_sheep_days, one.money_minor, one.handlings, one.text))[:1]


def _with(replans: Replans, wish: Wish, changed: Wish, cohort: Cohort) -> Replanned | None:
    """The plan with the wish changed; None where it is then still left out for the cohort, or not planned."""
    farm = replans.season.farm
    rows = tuple(changed if row is wish else row for row in farm.wishes)
    season = Season(replace(farm, wishes=rows), replans.season.made_for)
    again = replans.plan(changed, season)
    if again is None:
        return None
    taken = any(dose.where == wish.where and dose.cohort.id == cohort.id for dose in again.settled.doses)
    return again if taken else None


def _has_repeat(season: Season, wish: Wish) -> bool:
    """Whether another row wishes the repeat of it: to move one alone would part them."""
    return any(
        (row.group, row.label, row.use, row.repeat_of) == (wish.group, wish.label, wish.use, wish.day)
        for row in season.farm.wishes
    )
