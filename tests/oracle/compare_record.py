"""Stop conflicts of what was done: recorded doses against sales and shearings to come, and repeats that came late."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Any

from tests.oracle.compare_tasks import said
from tests.oracle.duties import Duties
from tests.oracle.judge import recorded_courses
from tests.oracle.rules import course_sale
from tests.oracle.world import Course, World

AGAINST = ("meat-withdrawal", "export-interval", "organic-withdrawal", "repeat-before-sale", "wool-interval")


def _shorn_early(world: World, course: Course) -> bool:
    cohort, wool = world.cohorts[course.cohort], world.label(course.label).wool
    if wool is None or cohort.group.shedding:
        return False
    days = [event.day for event in world.events("shearing", cohort.group.name) if event.day >= world.today]
    days = [day for day in days if world.on_farm(cohort, day)]
    return any(given < day < given + timedelta(days=wool + 1) for day in days for given in course.days)


def recorded_breaches(world: World) -> set[tuple[str, str]]:
    """(cohort, rule) of recorded doses that a sale or shearing from made_for on meets too soon."""
    out = set()
    for name, cohort in world.cohorts.items():
        for course in recorded_courses(world, name):
            slug = course_sale(world, course)
            if slug is not None and cohort.sale is not None and cohort.sale.day >= world.today:
                out.add((name, slug))
            if _shorn_early(world, course):
                out.add((name, "wool-interval"))
    return out


def record_differs(world: World, plan: dict[str, Any], duties: Duties) -> Iterator[str]:
    """Differences in (cohort, rule) of the stop conflicts of record.csv; not asked of a farm with directions."""
    stops = [
        one
        for one in plan["conflicts"]
        if one["severity"] == "stop" and (one["where"] or {}).get("file") == "record.csv"
    ]
    late = {(one.row, one.cohort) for one in duties.late}
    duty = [one for one in stops if one["rule"] in ("lamb-repeat", "repeat-before-sale")]
    owing = {(one["where"]["row"], one["cohort"]) for one in duty}
    if not late <= owing:
        yield f"late repeats of the record without a conflict (row, cohort): {sorted(late - owing)}"
    if world.farm.directions:
        return
    theirs = {(one["cohort"], one["rule"]) for one in stops if one["rule"] in AGAINST}
    theirs -= {(cohort, "repeat-before-sale") for row, cohort in late if (row, cohort) in owing}
    ours = recorded_breaches(world) - {(cohort, "repeat-before-sale") for _, cohort in late}
    yield from said("recorded doses against sales and shearings (cohort, rule)", sorted(theirs), sorted(ours))
