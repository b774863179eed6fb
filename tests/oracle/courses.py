"""Every lawful course that the plan itself may choose: first day, and repeat day where one is owed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from tests.oracle.flock import Cohort
from tests.oracle.folder import Finding
from tests.oracle.judge import recorded_courses
from tests.oracle.rules import alone, clash, course_sale, near, owed_days
from tests.oracle.world import Course, Dose, World


def _variants(world: World, cohort: Cohort, whole: Course) -> Iterator[Course]:
    days = owed_days(world, cohort, whole.label, whole.use, whole.first)
    if days is None:
        yield whole
        return
    for day in days:
        if world.opening <= day <= world.end:
            yield replace(whole, repeat=day)


def _keeps_record(world: World, course: Course, record: list[Course]) -> bool:
    return not any(near(world, course, one) or clash(world, course, one) for one in record)


def base_at_risk(world: World, cohort: Cohort, course: Course) -> bool:
    """Does the first dose cover a day within lead_days that is at risk whatever becomes of the findings?"""
    days = early_days(world, cohort, course)
    targets = set(world.use(course.label, course.use).targets) & set(world.targets)
    return any(world.base_level(cohort.id, target, day) >= world.act[target] for target in targets for day in days)


def early_days(world: World, cohort: Cohort, course: Course) -> list[date]:
    """Days of the first dose's cover that count against too-early."""
    covered, _ = world.cover(cohort.group.name, course.label, course.use, course.first)
    return sorted(day for day in covered if day <= course.first + world.lead and world.here(cohort, day))


def risk_findings(world: World, cohort: Cohort, course: Course) -> list[tuple[Finding, date]]:
    """Findings (and the first day of each) that may still make a day of the cover at risk."""
    targets = set(world.use(course.label, course.use).targets) & set(world.targets)
    out = []
    for finding in world.findings_of(cohort):
        days = [day for day in early_days(world, cohort, course) if world.stands(finding, day, world.record[cohort.id])]
        if finding.what in targets and days:
            out.append((finding, days[0]))
    return out


def _worth(world: World, cohort: Cohort, course: Course) -> bool:
    """Is it lawful by too-early (a standing finding permitting), and can it change a state at all?"""
    use = world.use(course.label, course.use)
    if use.treat:
        return True
    return base_at_risk(world, cohort, course) or bool(risk_findings(world, cohort, course))


def own_courses(world: World, cohort: Cohort) -> list[Course]:
    """Courses lawful alone and beside the record; what they do to each other is not looked at."""
    record = recorded_courses(world, cohort.id)
    out = []
    for label in world.farm.labels.values():
        for use in label.uses.values():
            for day in world.window():
                if alone(world, Dose(day, cohort.id, label.id, use.id)):
                    continue
                for course in _variants(world, cohort, Course(cohort.id, label.id, use.id, day, None)):
                    if any(alone(world, dose) for dose in course.doses) or course_sale(world, course) is not None:
                        continue
                    if _keeps_record(world, course, record) and _worth(world, cohort, course):
                        out.append(course)
    return out
