"""Why a day at risk stays open although a use exists for it: the fewest facts that keep every dose from it."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from itertools import combinations

from scheduler.plan.model import ClashFact
from scheduler.rules import RULES, Breach, rule_breaches
from scheduler.season import Cohort, Dose, Doses, Run, Season
from scheduler.words import Where, days_of

Fact = tuple[str, Where]
STOPS = tuple(rule for rule in RULES if rule.severity == "stop" and rule.slug != "lamb-repeat")


def clash_of(season: Season, run: Run, planned: Doses) -> tuple[ClashFact, ...]:
    """The fewest facts that keep every dose from a day of the run that a use could cover: one less, and there is a way.

    First against what was given alone. Where that leaves a dose for every day, against the rest of the plan: what its
    other doses, which cover more, do not let stand beside them on the first day.
    """
    given = season.record.of(run.cohort)
    for day in run.span.days():
        facts = _facts_of_day(season, run, day, given)
        if facts:
            return facts
    return _facts_of_day(season, run, run.span.first, planned.of(run.cohort))


def _facts_of_day(season: Season, run: Run, day: date, beside: tuple[Dose, ...]) -> tuple[ClashFact, ...]:
    known = {id(breach.dose) for breach in _stops(season, Doses(beside))}
    struck = []
    for dose in _candidates(season, run.cohort, run, day):
        facts = _facts(season, dose, beside, known)
        if not facts:
            return ()
        struck.append(facts)
    if not struck:
        return ()
    texts = {fact: text for facts in struck for fact, text in facts.items()}
    chosen = _fewest([frozenset(facts) for facts in struck])
    return tuple(ClashFact(rule, texts[(rule, where)], where) for rule, where in chosen)


def _candidates(season: Season, cohort: Cohort, run: Run, day: date) -> Iterable[Dose]:
    """Every first dose that would cover the day, were no stop rule in force."""
    for label, use in season.uses():
        if run.target in use.targets and use.purpose == "prevent":
            first = max(season.first_day, day - timedelta(days=max(use.protects_days)))
            for given_on in days_of(first, day):
                if day in season.cover(cohort, use, given_on).cover:
                    yield Dose(day=given_on, cohort=cohort, label=label, use=use)


def _facts(season: Season, dose: Dose, beside: tuple[Dose, ...], known: set[int]) -> dict[Fact, str]:
    """The rules that keep one dose out, each with the row or file that it rests on; `known` broke one before."""
    return {
        (breach.rule, _where(breach, dose)): breach.text
        for breach in _stops(season, Doses([*beside, dose]))
        if breach.dose is dose or id(breach.dose) not in known
    }


def _stops(season: Season, doses: Doses) -> Iterator[Breach]:
    return (breach for rule in STOPS for breach in rule_breaches(season, doses, rule))


def _where(breach: Breach, dose: Dose) -> Where:
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
