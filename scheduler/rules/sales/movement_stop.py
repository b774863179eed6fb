"""movement-stop: no sheep leaves while scab stands on the farm, or only as the law lets it."""

from collections.abc import Iterable

from scheduler.facts import country_facts
from scheduler.rules.contract import Breach, Rule
from scheduler.season import Cohort, Doses, Season
from scheduler.words import say_day

SLUG = "movement-stop"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Sales from made_for on, of any group, on a day on which a finding of scab stands on any sheep not gone before.

    A finding stands as everywhere: until it is cleared, or a treatment has begun to work. The law may go on for longer.
    """
    for sale in season.farm.sales:
        scabby = [one for one in season.cohorts
                  if not (one.leaves is not None and one.leaves < sale.day)
                  and season.findings.standing(one, "scab", sale.day, doses.of(one))]  # fmt: skip
        if sale.day >= season.made_for and scabby:
            text = (
                f"scab stands on {_names(scabby)} on {say_day(sale.day)}, when {sale.head} head are to go "
                f"({sale.purpose}); {_law(season.settings.country)}"
            )
            cohort = f"{sale.group}/{sale.name}"
            yield Breach(rule=SLUG, text=text, cohort=cohort, group=sale.group, where=sale.where)


def _names(cohorts: list[Cohort]) -> str:
    return "; ".join(dict.fromkeys(cohort.group.name for cohort in cohorts))


def _law(country: str) -> str:
    law = country_facts(country)
    if law is None:
        return f"whether the law of {country} forbids it is not known here: ask the veterinary office first"
    scab = law.scab_movement
    forbidden = {True: "the law forbids it", False: "no law is known that forbids it", None: "the law may forbid it"}
    memory = " (from memory)" if scab.seen == "from memory" else ""
    return f"{forbidden[scab.forbidden]}: {law.name}{memory}: {scab.text}"


RULE = Rule(
    slug=SLUG,
    title="While scab stands on a farm, no sheep leaves it unless the law of the country lets it.",
    why="One lot that carries mites infests every flock that it meets, at the market and on the lorry.",
    severity="warn",
    family="sales",
    sources=("scotland-scab-order", "uk-scab-memory"),
    whole=check,
)
