"""The stop rules as plain questions about one dose, one course, or two courses of a cohort."""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache
from itertools import product

from tests.oracle.flock import Cohort
from tests.oracle.folder import Direction
from tests.oracle.physic import age_days, country_holds, dose_ml, off_label_days, organic_days, repeat_owed
from tests.oracle.world import Course, Dose, World

SETTABLE = ("use-on-label", "youngest-age", "dose-band", "repeat-interval", "season-maximum", "fleece-weeks")
SPAN = 3  # a repeat falls on d+a .. d+a+3


def _off_use(world: World, cohort: Cohort, dose: Dose) -> bool:
    label, use = world.label(dose.label), world.use(dose.label, dose.use)
    if not country_holds(label, world.country):
        return True
    if use.kinds is not None and cohort.group.kind not in use.kinds:
        return True
    if any(0 < (event.day - dose.day).days < label.lambing for event in world.events("lambing", cohort.group.name)):
        return True
    if not use.treat or dose.repeat_of is not None:
        return False
    earlier = [one for one in world.record[cohort.id] if one.day < dose.day]
    return not any(
        one.what in use.targets and world.stands(one, dose.day, earlier) for one in world.findings_of(cohort)
    )


def _off_fleece(world: World, cohort: Cohort, dose: Dose) -> bool:
    weeks, shorn = world.use(dose.label, dose.use).fleece, world.last_shearing(cohort.group.name, dose.day)
    if weeks is None or shorn is None or cohort.group.shedding:
        return False
    return not 7 * weeks[0] <= (dose.day - shorn).days <= 7 * weeks[1]


def _off_wool(world: World, cohort: Cohort, dose: Dose) -> bool:
    wool = world.label(dose.label).wool
    if wool is None or cohort.group.shedding:
        return False
    shearings = [event.day for event in world.events("shearing", cohort.group.name) if event.day > dose.day]
    return any(world.on_farm(cohort, day) and (day - dose.day).days < wool + 1 for day in shearings)


def _off_day(world: World, cohort: Cohort, dose: Dose) -> bool:
    if dose.day in world.closed:
        return True
    mob = world.mob_of(cohort.group.name, dose.day)
    treat = world.use(dose.label, dose.use).treat
    return world.only_events(mob) and not treat and not world.free(mob, dose.day)


@cache
def alone(world: World, dose: Dose) -> tuple[str, ...]:
    """Stop slugs that a dose breaks by itself (beside its sale), directions and other planned doses unheeded."""
    cohort = world.cohorts[dose.cohort]
    label, use, group = world.label(dose.label), world.use(dose.label, dose.use), cohort.group
    age = age_days(group, dose.day)
    found = {
        "use-on-label": _off_use(world, cohort, dose),
        "youngest-age": age is not None and age < use.youngest,
        "dose-band": dose.repeat_of is None
        and dose_ml(world, group, use, dose.day, world.area(cohort, use, dose.day)) is None,
        "fleece-weeks": _off_fleece(world, cohort, dose),
        "meat-withdrawal": label.meat == "not-permitted",
        "milk-withdrawal": group.milk and not isinstance(label.milk, int),
        "wool-interval": _off_wool(world, cohort, dose),
        "closed-day": _off_day(world, cohort, dose),
        "away": not world.here(cohort, dose.day),
        "lambing-quiet": world.lambing(group.name, dose.day),
    }
    return tuple(slug for slug, broken in found.items() if broken)


def export_binds(cohort: Cohort) -> bool:
    sale = cohort.sale
    return sale is not None and (sale.purpose == "export" or (sale.purpose == "slaughter" and cohort.group.export))


def meat_wait(world: World, label: str, used: tuple[Direction, ...]) -> int | None:
    """Days of meat withdrawal that hold (off-label, then organic), None where unknown or not permitted."""
    stated = world.label(label).meat
    if not isinstance(stated, int):
        return None
    days = (
        off_label_days(world.country, stated, max((one.meat_days or 0) for one in used), milk=False) if used else stated
    )
    return organic_days(days) if world.organic else days


def milk_wait(world: World, label: str, used: tuple[Direction, ...]) -> int | None:
    """Days of milk withdrawal that hold, None where unknown or not permitted."""
    stated = world.label(label).milk
    if not isinstance(stated, int):
        return None
    days = (
        off_label_days(world.country, stated, max((one.milk_days or 0) for one in used), milk=True) if used else stated
    )
    return organic_days(days) if world.organic else days


def sale_slug(world: World, course: Course, last: date, used: tuple[Direction, ...] = ()) -> str | None:
    """The first sale rule that a course whose last dose falls on `last` breaks."""
    cohort, label = world.cohorts[course.cohort], world.label(course.label)
    if cohort.sale is None or cohort.sale.purpose not in ("slaughter", "export") or cohort.sale.day <= last:
        return None
    room = (cohort.sale.day - last).days - 1 - world.margin
    if not isinstance(label.meat, int) or room < label.meat:
        return "meat-withdrawal"
    if export_binds(cohort) and (not isinstance(label.export, int) or room < label.export):
        return "export-interval"
    if used and any(one.meat_days is None for one in used):
        return "off-label-withdrawal"
    off = (
        off_label_days(world.country, label.meat, max((one.meat_days or 0) for one in used), milk=False)
        if used
        else label.meat
    )
    if room < off:
        return "off-label-withdrawal"
    return "organic-withdrawal" if world.organic and room < organic_days(off) else None


def course_sale(world: World, course: Course, used: tuple[Direction, ...] = ()) -> str | None:
    """As sale_slug for the whole course: repeat-before-sale where only the repeat breaks it."""
    if course.repeat is None:
        return sale_slug(world, course, course.first, used)
    early = None if course.origin == "owed" else sale_slug(world, course, course.first, used)
    if early is not None:
        return early
    return None if sale_slug(world, course, course.repeat, used) is None else "repeat-before-sale"


def aside(world: World, course: Course, day: date, slug: str) -> Direction | None:
    """The direction that sets a rule aside for a course's dose of that day; the plan's own doses have none."""
    group = world.cohorts[course.cohort].group.name
    if course.origin not in ("wish", "owed") or slug not in SETTABLE:
        return None
    for one in world.farm.directions:
        meant = (one.label, one.use) == (course.label, course.use) and group in one.groups
        if meant and slug in one.sets_aside and one.signed <= day <= one.until:
            return one
    return None


def near(world: World, one: Course, other: Course) -> date | None:
    """The later day on which two courses of a cohort break repeat-interval, None where they keep it."""
    first, second = world.label(one.label), world.label(other.label)
    if first.active != second.active:
        return None
    same = set(one.given) & set(other.given)
    if same:
        return max(same)
    if "owed" not in (one.origin, other.origin) and abs((one.first - other.first).days) < max(
        first.interval, second.interval
    ):
        return max(one.first, other.first)
    return None


def clash(world: World, one: Course, other: Course) -> bool:
    """product-clash between two courses of a cohort."""
    if one.label == other.label:
        return False
    first, second = world.label(one.label), world.label(other.label)
    days = [n for chemical, n in first.not_with if chemical == second.chemical]
    days += [n for chemical, n in second.not_with if chemical == first.chemical]
    return any(abs((d - e).days) < max(days, default=0) for d, e in product(one.given, other.given))


def owed_days(world: World, cohort: Cohort, label: str, use: str, first: date) -> list[date] | None:
    """The days d+a .. d+a+3 of the repeat that a first dose obliges, None where it obliges none."""
    repeat = repeat_owed(world, cohort.group, world.use(label, use), first)
    if repeat is None:
        return None
    return [first + timedelta(days=repeat.after + extra) for extra in range(SPAN + 1)]


def too_early(world: World, dose: Dose, doses: list[Dose]) -> bool:
    """No day of its cover within lead_days is at risk, findings that stand under `doses` included."""
    cohort, use = world.cohorts[dose.cohort], world.use(dose.label, dose.use)
    covered, _ = world.cover(cohort.group.name, dose.label, dose.use, dose.day)
    days = [day for day in covered if day <= dose.day + world.lead and world.here(cohort, day)]
    for target in set(use.targets) & set(world.targets):
        for day in days:
            if world.base_level(cohort.id, target, day) >= world.act[target] or world.infested(
                cohort, target, day, doses
            ):
                return False
    return True
