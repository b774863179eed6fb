"""Compare the tasks and the day runs of a plan.json, field by field, with the oracle's own reckoning."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from tests.oracle.flock import span
from tests.oracle.folder import Direction
from tests.oracle.judge import directions_used, ml_a_head, money_of
from tests.oracle.physic import age_days, two_places, weight
from tests.oracle.rules import export_binds, meat_wait, milk_wait
from tests.oracle.world import Dose, World

Plan = dict[str, Any]
Runs = list[tuple[str, str, Decimal, str]]


def said(what: str, found: object, ours: object) -> Iterator[str]:
    """One line where two values differ."""
    if found != ours:
        yield f"{what}: found {found}, ours {ours}"


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def clear_dates(world: World, dose: Dose, last: date, used: tuple[Direction, ...]) -> dict[str, str | None]:
    """clear.meat, milk, export and wool of a course whose last dose falls on `last`."""
    cohort, label = world.cohorts[dose.cohort], world.label(dose.label)
    meat, milk = meat_wait(world, dose.label, used), milk_wait(world, dose.label, used)
    meat_day = None if meat is None else last + timedelta(days=meat + 1)
    export_day = None
    if export_binds(cohort) and isinstance(label.export, int):
        export_day = last + timedelta(days=label.export + 1)
        export_day = export_day if meat_day is None else max(export_day, meat_day)
    return {
        "meat": _iso(meat_day),
        "milk": _iso(last + timedelta(days=milk + 1)) if milk is not None and cohort.group.milk else None,
        "export": _iso(export_day),
        "wool": _iso(last + timedelta(days=label.wool + 1)) if label.wool is not None else None,
    }


def protects(world: World, dose: Dose) -> dict[str, str | None]:
    """First and last day relied on, and the last fading day."""
    covered, fading = world.cover(world.cohorts[dose.cohort].group.name, dose.label, dose.use, dose.day)
    return {
        "from": _iso(min(covered, default=None)),
        "to": _iso(max(covered, default=None)),
        "fades_until": _iso(max(fading, default=None)),
    }


def _number(value: object) -> Decimal | None:
    return None if value is None else Decimal(str(value))


def _figures(world: World, task: Plan, dose: Dose, name: str) -> Iterator[str]:
    cohort, ml = world.cohorts[dose.cohort], ml_a_head(world, dose)
    kg = weight(world, cohort.group, dose.day, True)
    targets = set(world.use(dose.label, dose.use).targets) & set(world.targets)
    yield from said(f"{name} group", task["group"], cohort.group.name)
    yield from said(f"{name} head", task["head"], cohort.head)
    yield from said(f"{name} targets", sorted(task["targets"]), sorted(targets))
    yield from said(f"{name} dose_ml", _number(task["dose_ml"]), ml)
    yield from said(f"{name} task_ml", _number(task["task_ml"]), None if ml is None else ml * cohort.head)
    yield from said(f"{name} money_minor", task["money_minor"], money_of(world, dose))
    yield from said(f"{name} heaviest_kg", _number(task["heaviest_kg"]), None if kg is None else two_places(kg))
    yield from said(f"{name} age_days", task["age_days"], age_days(cohort.group, dose.day))


def tasks_differ(world: World, plan: Plan, doses: list[Dose]) -> Iterator[str]:
    """Differences in the figures and dates of every planned dose task."""
    tasks = {
        (one["date"], one["cohort"], one["label"], one["use"]): one
        for one in plan["tasks"]
        if one["kind"] == "dose" and one["status"] == "planned"
    }
    for course, used in directions_used(world, doses).items():
        for dose in course.doses:
            task = tasks[dose.day.isoformat(), dose.cohort, dose.label, dose.use]
            name = " ".join(str(one) for one in dose.key)
            yield from _figures(world, task, dose, name)
            yield from said(f"{name} protects", task["protects"], protects(world, dose))
            yield from said(f"{name} clear", task["clear"], clear_dates(world, dose, course.days[-1], used))


def runs_of(world: World, name: str, target: str, doses: list[Dose]) -> Runs:
    """(from, to, level, state): maximal runs of a cohort's days for a target."""
    mine = world.record[name] + [one for one in doses if one.cohort == name]
    out: Runs = []
    for day in span(world.start, world.end):
        level, state = world.day_state(world.cohorts[name], target, day, mine)
        if out and out[-1][2:] == (level, state):
            out[-1] = (out[-1][0], day.isoformat(), level, state)
        else:
            out.append((day.isoformat(), day.isoformat(), level, state))
    return out


def days_differ(world: World, plan: Plan, doses: list[Dose]) -> Iterator[str]:
    """Differences in the runs of level and state."""
    theirs: dict[tuple[str, str], Runs] = {}
    for one in plan["days"]:
        run = (one["from"], one["to"], Decimal(str(one["level"])), one["state"])
        theirs.setdefault((one["cohort"], one["target"]), []).append(run)
    ours = {(name, target): runs_of(world, name, target, doses) for name in world.cohorts for target in world.targets}
    yield from said("days for", sorted(theirs), sorted(ours))
    for key in theirs.keys() & ours.keys():
        wrong = [one for one in theirs[key] if one not in ours[key]]
        right = [one for one in ours[key] if one not in theirs[key]]
        if wrong or right:
            yield f"days of {key[0]} for {key[1]}: found {_told(wrong)}, ours {_told(right)}"


def _told(runs: Runs) -> str:
    return "; ".join(f"{first}..{last} {level} {state}" for first, last, level, state in runs[:4]) or "nothing else"
