"""On random farms the planner's options and masks forbid exactly what the engine calls a breach: two ways, one truth.

`check` judges doses that stand; options are built day by day with the doses that are fixed, masks by pairs of courses.
"""

import random
from collections.abc import Iterator
from itertools import combinations

import pytest

from scheduler.farm import Farm, read_farm
from scheduler.plan.apart import apart_masks
from scheduler.plan.options import Options, repeat_days
from scheduler.rules import RULES, Rule, breaches
from scheduler.rules.engine import may_give
from scheduler.season import Cohort, Course, Dose, Doses, Season
from tests.oracle.farms import FAMILIES, random_farm

PLANNED_BY = [rule for rule in RULES if rule.severity == "stop" or rule.slug == "too-early"]
OF_PAIRS = [rule for rule in PLANNED_BY if rule.count is None]
"""How many courses there may be is not a matter of pairs."""
MOST_PAIRS = 150

FARMS = [(family, seed) for family in FAMILIES for seed in (1, 2, 3)]
each_farm = pytest.mark.parametrize(("family", "seed"), FARMS)


def season_of(family: str, seed: int) -> Season:
    """The season of a random farm."""
    drawn = random_farm(seed, 2, family)
    farm = read_farm({name: text.encode() for name, text in drawn.files.items()}, drawn.today)
    assert isinstance(farm, Farm), farm
    return Season(farm, drawn.today)


def said(season: Season, doses: list[Dose], rules: list[Rule]) -> set[tuple[object, ...]]:
    """What the rules say of the doses of one cohort."""
    found = breaches(season, Doses(doses), rules)
    return {(one.rule, one.dose.key, one.dose.origin, one.dose.first_day) for one in found if one.dose is not None}


def is_lawful(season: Season, fixed: list[Dose], courses: tuple[Course, ...], rules: list[Rule]) -> bool:
    """Whether the courses add no breach to those of the doses that are fixed."""
    doses = [*fixed, *(dose for course in courses for dose in course.doses)]
    return said(season, doses, rules) <= said(season, fixed, rules)


def candidates(season: Season, cohort: Cohort, options: Options) -> Iterator[Course]:
    """Every course of every use on every day of the cohort's window, lawful or not."""
    for label, use in season.uses():
        for day in options.window.days():
            first = Dose(day=day, cohort=cohort, label=label, use=use)
            duty = season.repeat_duty(cohort, use, day)
            if duty is None:
                yield Course(first=first)
                continue
            for again in repeat_days(day, duty).days():
                if again in season.window:
                    yield Course(first=first, repeat=options.repeat_of(first, again))


@each_farm
def test_the_planner_is_offered_just_the_courses_in_which_the_engine_finds_nothing(family: str, seed: int) -> None:
    season = season_of(family, seed)
    for cohort in season.cohorts:
        fixed = list(season.record.of(cohort))
        options = Options(season, cohort, fixed)
        offered = set(options.courses())
        for course in candidates(season, cohort, options):
            assert (course in offered) == is_lawful(season, fixed, (course,), PLANNED_BY), course
            offered.discard(course)
        assert not offered


@each_farm
def test_what_might_be_given_instead_is_what_the_planner_is_offered_or_would_be_but_too_early(
    family: str, seed: int
) -> None:
    season = season_of(family, seed)
    too_early = [rule for rule in RULES if rule.slug == "too-early"]
    for cohort in season.cohorts:
        fixed = list(season.record.of(cohort))
        options = Options(season, cohort, fixed)
        offered = {course.doses[0].key for course in options.courses()}
        for first in {course.doses[0].key: course.doses[0] for course in candidates(season, cohort, options)}.values():
            early = bool(said(season, [*fixed, first], too_early) - said(season, fixed, too_early))
            assert (may_give(season, first, fixed) and not early) == (first.key in offered), first


@each_farm
def test_masks_keep_just_those_courses_apart_in_which_the_engine_finds_something(family: str, seed: int) -> None:
    season = season_of(family, seed)
    for cohort in season.cohorts:
        fixed = list(season.record.of(cohort))
        courses = list(Options(season, cohort, fixed).courses())
        masks = apart_masks(season, cohort, courses)
        pairs = list(combinations(range(len(courses)), 2))
        for one, other in random.Random(seed).sample(pairs, min(MOST_PAIRS, len(pairs))):
            lawful = is_lawful(season, fixed, (courses[one], courses[other]), OF_PAIRS)
            assert bool(masks[one] >> other & 1) != lawful, (courses[one], courses[other])
            assert bool(masks[other] >> one & 1) != lawful


def test_random_farms_offer_courses_and_keep_some_apart() -> None:
    offered = forbidden = apart = together = 0
    for family, seed in FARMS:
        season = season_of(family, seed)
        for cohort in season.cohorts:
            options = Options(season, cohort, season.record.of(cohort))
            courses = list(options.courses())
            offered += len(courses)
            forbidden += sum(1 for _ in candidates(season, cohort, options)) - len(courses)
            near = sum(mask.bit_count() for mask in apart_masks(season, cohort, courses))
            apart += near
            together += len(courses) * (len(courses) - 1) - near
    assert min(offered, forbidden, apart, together) > 100
