"""Which courses would spare which exposed days: rows of equal days merged, for one cohort."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta

from tests.oracle.flock import Cohort, span
from tests.oracle.folder import Finding
from tests.oracle.world import Course, World

Need = tuple[frozenset[int], ...]  # each set of course numbers must be met, or the day is exposed


def covers(world: World, cohort: Cohort, course: Course, target: str) -> frozenset[date]:
    """Days that the planned doses of a course cover for a target."""
    if target not in world.use(course.label, course.use).targets:
        return frozenset()
    days = [world.cover(cohort.group.name, course.label, course.use, dose.day)[0] for dose in course.doses]
    return frozenset().union(*days)


def ended_from(world: World, course: Course, finding: Finding) -> date | None:
    """First day on which a finding no longer stands thanks to a course."""
    ends = [world.ends(dose, finding) for dose in course.doses]
    return min((end for end in ends if end is not None), default=None)


def enders(world: World, courses: list[Course], finding: Finding, day: date, before: bool) -> frozenset[int]:
    """Courses that end a finding by a day; before: only by doses of earlier days."""
    out = set()
    for number, course in enumerate(courses):
        end = ended_from(world, course, finding)
        if end is None or end > day:
            continue
        days = [dose.day for dose in course.doses if world.ends(dose, finding) is not None]
        if not before or any(
            d < day and d + timedelta(days=world.use(course.label, course.use).works) <= day for d in days
        ):
            out.add(number)
    return frozenset(out)


def needs_of(world: World, cohort: Cohort, courses: list[Course]) -> Counter[Need]:
    """How many days of the cohort have each need; a need with an empty set is an exposed day whatever is done."""
    out: Counter[Need] = Counter()
    record = world.record[cohort.id]
    for target in world.targets:
        spans = [covers(world, cohort, course, target) for course in courses]
        for day in span(world.opening, world.end):
            if not world.here(cohort, day):
                continue
            need = [
                enders(world, courses, one, day, before=False)
                for one in world.findings_of(cohort)
                if one.what == target and world.stands(one, day, record)
            ]
            if world.base_level(cohort.id, target, day) >= world.act[target] and not _spared(
                world, cohort, target, day
            ):
                need.append(frozenset(number for number, days in enumerate(spans) if day in days))
            if need:
                out[tuple(sorted(set(need), key=sorted))] += 1
    return out


def _spared(world: World, cohort: Cohort, target: str, day: date) -> bool:
    """Does the record cover the day?"""
    return any(
        dose.full
        and target in world.use(dose.label, dose.use).targets
        and day in world.cover(cohort.group.name, dose.label, dose.use, dose.day)[0]
        for dose in world.record[cohort.id]
    )
