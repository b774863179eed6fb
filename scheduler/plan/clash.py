"""Why a day at risk stays open although a use exists for it: the fewest facts that keep every dose from it."""

from collections.abc import Iterable
from datetime import date, timedelta
from itertools import combinations

from scheduler.plan.model import ClashFact
from scheduler.rules import RULES, Breach, rule_breaches
from scheduler.season import Cohort, Course, Dose, Doses, Run, Season
from scheduler.words import Where, days_of

Fact = tuple[str, Where]
STOPS = tuple(rule for rule in RULES if rule.severity == "stop")


def clash_of(season: Season, run: Run) -> tuple[ClashFact, ...]:
    """The fewest facts with which no single lawful dose covers the first day of the run that a use could cover.

    Leave any one out and there is a way. Empty where a lawful dose exists and only other doses stand against it.
    """
    given = season.record.of(run.cohort)
    for day in run.span.days():
        struck = [_facts(season, dose, given) for dose in _candidates(season, run.cohort, run, day)]
        if struck and all(struck):
            texts = {fact: text for facts in struck for fact, text in facts.items()}
            chosen = _fewest([frozenset(facts) for facts in struck])
            return tuple(ClashFact(rule, texts[(rule, where)], where) for rule, where in chosen)
    return ()


def _candidates(season: Season, cohort: Cohort, run: Run, day: date) -> Iterable[Dose]:
    """Every first dose that would cover the day, were no stop rule in force."""
    for label, use in season.uses():
        if run.target in use.targets and use.purpose == "prevent":
            first = max(season.first_day, day - timedelta(days=max(use.protects_days)))
            for given_on in days_of(first, day):
                if day in season.cover(cohort, use, given_on).cover:
                    yield Dose(day=given_on, cohort=cohort, label=label, use=use)


def _facts(season: Season, dose: Dose, given: tuple[Dose, ...]) -> dict[Fact, str]:
    """The rules that keep one dose out, each with the row or file that it rests on."""
    doses = Doses([*given, dose])
    course = Course(first=dose)
    found: dict[Fact, str] = {}
    for rule in STOPS:
        if rule.slug != "lamb-repeat":
            for breach in rule_breaches(season, doses, rule):
                if breach.dose is dose:
                    found[(rule.slug, _where(breach, course))] = breach.text
    return found


def _where(breach: Breach, course: Course) -> Where:
    dose = course.doses[0]
    return breach.where or (dose.cohort.group.where if breach.rule in OF_THE_GROUP else dose.label.where)


OF_THE_GROUP = frozenset(("youngest-age", "away"))
"""Rules that rest on a row of groups.csv where they name no other."""


def _fewest(struck: list[frozenset[Fact]]) -> tuple[Fact, ...]:
    """The least set of facts that strikes every candidate; of several the least sorted."""
    facts = sorted({fact for one in struck for fact in one}, key=lambda fact: (fact[0], fact[1].sort_key()))
    for size in range(1, len(facts) + 1):
        for chosen in combinations(facts, size):
            if all(one & set(chosen) for one in struck):
                return chosen
    return ()
