"""Random choices among the courses offered: the planner's numbers forbid just those that the judge finds unlawful."""

import random
from collections import Counter, defaultdict

from scheduler import planner
from scheduler.plan.numbers import new_doses
from scheduler.plan.settle import RESTS_ON_FINDINGS, Question, question_of
from scheduler.season import Dose, Doses, Season
from scheduler.verify import unlawful
from tests.oracle.farms import random_farm
from tests.properties.planning import farm_of

FAMILIES = ("clash", "work", "mixed", "record", "history", "sales", "lambs", "wishes")
SEEDS, CHOICES = range(6), 25
Chosen = list[tuple[int, ...]]


def at_random(question: Question, dice: random.Random) -> Chosen:
    """Of each cohort a course of each duty, and up to three others of any days, or one that begins on a day of all."""
    found: Chosen = []
    day = dice.choice([None, dice.choice([*question.season.window.days()])])
    for cohort, lot in zip(question.problem.cohorts, question.lots, strict=True):
        free = list(range(len(lot.courses) - len(lot.free), len(lot.courses)))
        if day is not None:
            free = [number for number in free if lot.courses[number].doses[0].day == day][:1]
        some = dice.sample(free, min(dice.choice((0, 1, 1, 1, 2, 3)), len(free)))
        found.append(tuple(sorted([*(dice.choice(duty) for duty in cohort.duties), *some])))
    return found


def allowed(problem: planner.Problem, chosen: Chosen) -> bool:
    """Whether masks, counters and the head limit of a day let the courses be chosen together."""
    for cohort, numbers in zip(problem.cohorts, chosen, strict=True):
        if any(cohort.apart[one] >> other & 1 for one in numbers for other in numbers):
            return False
        for counter in cohort.counters:
            caps = [cap for number, cap in zip(counter.courses, counter.caps, strict=True) if number in numbers]
            if caps and len(caps) > min(caps):
                return False
    return problem.capacity is None or not _over(problem, problem.capacity, chosen)


def _over(problem: planner.Problem, capacity: planner.Capacity, chosen: Chosen) -> bool:
    """Whether more head are dosed on a day than may be; a cohort over the limit by itself may be done alone."""
    days: dict[int, dict[int, int]] = defaultdict(dict)
    for day, number, head in capacity.taken:
        days[day][number] = head
    planned = set()
    for number, (cohort, numbers) in enumerate(zip(problem.cohorts, chosen, strict=True)):
        for course in numbers:
            for dose in cohort.courses[course].doses:
                days[dose.day].setdefault(number, cohort.head)
                planned.add(dose.day)
    return any(len(days[day]) > 1 and sum(days[day].values()) > capacity.most for day in planned)


def doses_of(question: Question, chosen: Chosen) -> list[Dose]:
    """The doses of the courses chosen."""
    pairs = zip(question.lots, chosen, strict=True)
    return [dose for lot, numbers in pairs for number in numbers for dose in new_doses(lot.courses[number])]


def test_what_the_planner_may_choose_together_is_what_the_judge_finds_lawful() -> None:
    seen: Counter[str] = Counter()
    for family in FAMILIES:
        for seed in SEEDS:
            drawn, dice = random_farm(seed, 2, family), random.Random(seed)
            season = Season(farm_of(drawn.files, drawn.today), drawn.today)
            question = question_of(season, (), {})
            for _ in range(CHOICES):
                chosen = at_random(question, dice)
                found = unlawful(season, Doses([*question.fixed, *doses_of(question, chosen)]))
                rules = {one.rule for one in found}
                if not rules or rules - RESTS_ON_FINDINGS:
                    assert allowed(question.problem, chosen) == (not rules), (family, seed, chosen, rules)
                seen.update(rules - RESTS_ON_FINDINGS or {"nothing"})
    assert seen.keys() == {"nothing", "repeat-interval", "season-maximum", "product-clash", "daily-head"}
    assert min(seen.values()) > 5
