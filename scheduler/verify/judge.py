"""The judge: any list of doses against every stop rule, from the season alone."""

from collections.abc import Iterator

from scheduler.rules import RULES, Breach, breaches
from scheduler.season import Doses, Season

STOPS = tuple(rule for rule in RULES if rule.severity == "stop")
PLANNED_SAFELY = (*STOPS, *(rule for rule in RULES if rule.slug == "too-early"))
"""The rules that the planner's own doses never break."""

WORK_RULES = frozenset(("closed-day", "daily-head", "away", "lambing-quiet"))
"""Done is done: the record is not judged by these."""


def stop_breaches(season: Season, doses: Doses) -> Iterator[Breach]:
    """Breaches of stop rules; of what was done only by the rules that can still matter."""
    for breach in breaches(season, doses, STOPS):
        dose = breach.dose
        done = dose is not None and dose.origin == "record" and breach.rule in WORK_RULES
        if not done and (dose is None or dose.origin != "missed"):
            yield breach


def unlawful(season: Season, doses: Doses) -> list[Breach]:
    """Breaches by doses that are still to be given: none may stand in a plan."""
    found = []
    for breach in breaches(season, doses, PLANNED_SAFELY):
        wished = breach.dose is not None and breach.dose.origin == "wish" and breach.rule == "too-early"
        if breach.dose is not None and breach.dose.is_ours and not wished:
            found.append(breach)
    return found
