"""Which courses of one cohort may not stand together, as bit masks."""

from collections.abc import Sequence
from datetime import date

from scheduler.labels import Label
from scheduler.plan.options import APART_RULES
from scheduler.rules import least_days, near_days, shared_targets
from scheduler.season import Cohort, Course, Dose, Season
from scheduler.words import Target

Masks = list[int]


def apart_masks(season: Season, cohort: Cohort, courses: Sequence[Course]) -> tuple[int, ...]:
    """For each course the mask of those it may not stand with: too near, or it rests on what the other has cured."""
    masks = _near(season, courses)
    _cured(season, cohort, courses, masks)
    _excused(season, courses, masks)
    return tuple(masks)


class _ByDay:
    """Courses of one label with a dose on a day, as masks; of spans of 1, 2, 4, ... days they are put together once."""

    def __init__(self) -> None:
        self._spans: list[dict[int, int]] = [{}]

    def add(self, day: date, bit: int) -> None:
        """Notes a dose of the course with this bit; all are noted before any span is asked for."""
        on = self._spans[0]
        on[day.toordinal()] = on.get(day.toordinal(), 0) | bit

    def span(self, first: int, last: int) -> int:
        """Mask of the courses with a dose from first to last, both included."""
        doublings = (last - first + 1).bit_length() - 1
        while len(self._spans) <= doublings:
            self._spans.append(self._doubled(1 << len(self._spans) - 1))
        spans = self._spans[doublings]
        return spans.get(first, 0) | spans.get(last - (1 << doublings) + 1, 0)

    def _doubled(self, length: int) -> dict[int, int]:
        """Masks of spans of twice the days of the longest so far, by first day."""
        spans = self._spans[-1]
        begins = {*spans, *(first - length for first in spans)}
        return {first: spans.get(first, 0) | spans.get(first + length, 0) for first in begins}


def _near(season: Season, courses: Sequence[Course]) -> Masks:
    labels: dict[str, Label] = {course.last.label.id: course.last.label for course in courses}
    firsts = {name: _ByDay() for name in labels}
    doses = {name: _ByDay() for name in labels}
    for number, course in enumerate(courses):
        for dose in course.doses:
            if dose.is_ours:
                doses[dose.label.id].add(dose.day, 1 << number)
                if dose.first_day is None:
                    firsts[dose.label.id].add(dose.day, 1 << number)
    gaps = {(one, other): _gaps(season, labels[one], labels[other]) for one in labels for other in labels}
    seen: dict[tuple[str, int, bool], int] = {}
    masks = []
    for number, course in enumerate(courses):
        mask = 0
        for dose in course.doses:
            if dose.is_ours:
                key = (dose.label.id, dose.day.toordinal(), dose.first_day is None)
                if key not in seen:
                    seen[key] = _too_near(key, gaps, firsts, doses)
                mask |= seen[key]
        masks.append(mask & ~(1 << number))
    return masks


def _gaps(season: Season, one: Label, other: Label) -> tuple[int, int]:
    """Least days between first doses, and between any doses, of two labels."""
    found = [rule.apart(season, one, other) for rule in APART_RULES if rule.apart is not None]
    return max(apart.firsts for apart in found), max(apart.doses for apart in found)


def _too_near(
    key: tuple[str, int, bool],
    gaps: dict[tuple[str, str], tuple[int, int]],
    firsts: dict[str, _ByDay],
    doses: dict[str, _ByDay],
) -> int:
    label, day, is_first = key
    mask = 0
    for other in doses:
        between_firsts, between_doses = gaps[(label, other)]
        if between_doses > 0:
            mask |= doses[other].span(day - between_doses + 1, day + between_doses - 1)
        if is_first and between_firsts > 0:
            mask |= firsts[other].span(day - between_firsts + 1, day + between_firsts - 1)
    return mask


def _cured(season: Season, cohort: Cohort, courses: Sequence[Course], masks: Masks) -> None:
    """A dose that may stand only while a finding stands goes with no dose that has ended the finding by then."""
    if not any(season.findings.of(cohort, target) for target in season.targets):
        return
    cures = [(number, dose) for number, course in enumerate(courses) for dose in course.doses
             if dose.is_ours and dose.use.purpose == "treat"]  # fmt: skip
    for number, course in enumerate(courses):
        first = course.first
        rests_on = [] if first is None or not first.is_ours else _rests_on(season, cohort, first)
        if not rests_on:
            continue
        targets = {target for target, _ in rests_on}
        soonest = min(day for _, day in rests_on)
        for other, cure in cures:
            works = cure.day.toordinal() + cure.use.works_after_days
            if other != number and targets <= set(cure.use.targets) and works <= soonest.toordinal():
                masks[number] |= 1 << other
                masks[other] |= 1 << number


def _rests_on(season: Season, cohort: Cohort, first: Dose) -> list[tuple[Target, date]]:
    """The findings' days of which one must still stand for the first dose to be lawful; none: it rests on none."""
    given = season.record.of(cohort)
    near = near_days(season, first)
    targets = shared_targets(season, first)
    if first.use.purpose == "treat":
        places = [(target, first.day) for target in first.use.targets]
    elif first.origin == "wish" or any(season.is_risk_between(cohort, one, near.first, near.last) for one in targets):
        return []
    else:
        places = [(target, day) for target in targets for day in near.days() if season.is_here(cohort, day)]
    return [place for place in places if season.findings.standing(cohort, *place, given)]


def _excused(season: Season, courses: Sequence[Course], masks: Masks) -> None:
    """A wish that a vet's direction carries may follow too soon on other duties; the planner's own doses may not."""
    duties = [(number, course) for number, course in enumerate(courses) if is_duty(course)]
    for number, course in duties:
        wish = course.first
        if wish is None or not wish.directions:
            continue
        for other, before in duties:
            if masks[number] >> other & 1 and not _still_near(season, before, wish):
                masks[number] &= ~(1 << other)
                masks[other] &= ~(1 << number)


def is_duty(course: Course) -> bool:
    """Whether a course stands in a duty: a wish, or a repeat owed to the record."""
    return any(dose.origin != "plan" for dose in course.doses)


def _still_near(season: Season, before: Course, wish: Dose) -> bool:
    """Whether a rule that no direction sets aside keeps the two apart."""
    aside = {slug for row in wish.directions for slug in row.sets_aside}
    return any(
        abs((dose.day - wish.day).days) < least_days(season, rule, dose, wish)
        for dose in before.doses
        if dose.is_ours
        for rule in APART_RULES
        if rule.slug not in aside or dose.day > wish.day
    )
