"""A plan.json as the oracle itself would write it, to try the comparison on."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.oracle.compare_record import recorded_breaches
from tests.oracle.compare_tasks import clear_dates, protects, runs_of
from tests.oracle.judge import directions_used, ml_a_head, money_of
from tests.oracle.milp import Answer
from tests.oracle.physic import age_days, two_places, weight
from tests.oracle.world import Dose, World

Plan = dict[str, Any]


def _uid(dose: Dose) -> str:
    return " ".join(str(one) for one in dose.key)


def _task(world: World, dose: Dose, first: date, clear: dict[str, str | None]) -> Plan:
    cohort, ml = world.cohorts[dose.cohort], ml_a_head(world, dose)
    kg = weight(world, cohort.group, dose.day, True)
    head = Dose(first, dose.cohort, dose.label, dose.use)
    figures = {
        "dose_ml": None if ml is None else str(ml),
        "task_ml": None if ml is None else str(ml * cohort.head),
        "heaviest_kg": None if kg is None else str(two_places(kg)),
        "age_days": age_days(cohort.group, dose.day),
        "money_minor": money_of(world, dose),
    }
    return figures | {
        "uid": _uid(dose),
        "kind": "dose",
        "status": "planned",
        "date": dose.day.isoformat(),
        "cohort": dose.cohort,
        "group": cohort.group.name,
        "head": cohort.head,
        "label": dose.label,
        "use": dose.use,
        "targets": [one for one in world.use(dose.label, dose.use).targets if one in world.targets],
        "repeat_of": _uid(head) if dose.repeat_of else None,
        "protects": protects(world, dose),
        "clear": clear,
    }


def _cohorts(world: World) -> list[Plan]:
    out = []
    for one in world.cohorts.values():
        leaves = world.leaves(one)
        plan: Plan = {"id": one.id, "group": one.group.name, "kind": one.group.kind, "head": one.head}
        out.append(
            plan | {"leaves": leaves.isoformat() if leaves else None, "sale": one.sale.name if one.sale else None}
        )
    return out


def paper_plan(world: World, answer: Answer) -> Plan:
    """The parts of plan.json that are compared, for the oracle's own answer."""
    doses = list(answer.doses)
    tasks = []
    for course, used in directions_used(world, doses).items():
        clear = clear_dates(world, course.doses[0], course.days[-1], used)
        tasks += [_task(world, dose, course.first, clear) for dose in course.doses]
    days = [
        {"cohort": name, "target": target, "from": first, "to": last, "level": str(level), "state": state}
        for name in world.cohorts
        for target in world.targets
        for first, last, level, state in runs_of(world, name, target, doses)
    ]
    conflicts = [
        {"severity": "stop", "rule": breaches[0].slug, "cohort": cohort, "where": {"file": "wishes.csv", "row": row}}
        for (row, cohort), breaches in answer.duties.refused.items()
        if breaches
    ]
    conflicts += [
        {"severity": "stop", "rule": rule, "cohort": cohort, "where": {"file": "record.csv", "row": 0}}
        for cohort, rule in sorted(recorded_breaches(world))
    ]
    conflicts += [
        {
            "severity": "stop",
            "rule": "lamb-repeat",
            "cohort": one.cohort,
            "where": {"file": "record.csv", "row": one.row},
        }
        for one in answer.duties.late
    ]
    best = answer.score
    figures = {"exposed_sheep_days": best.exposed, "money_minor": best.money, "handlings": best.handlings}
    return {
        "status": "proved",
        "gap": None,
        "score": figures | {"gathers": best.gathers},
        "cohorts": _cohorts(world),
        "tasks": tasks,
        "days": days,
        "conflicts": conflicts,
    }
