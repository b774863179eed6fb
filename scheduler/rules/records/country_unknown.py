"""country-unknown: a country whose law is not among the facts."""

from collections.abc import Iterable

from scheduler.facts import country_facts
from scheduler.rules.contract import Breach, Rule
from scheduler.season import Doses, Season

SLUG = "country-unknown"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Once, where neither the farm's part of a country nor the country has facts."""
    here = season.settings.country
    if country_facts(here) is None:
        text = (
            f"the law of {here} is not known here: withdrawal outside the label, movement with scab, dipping and "
            "records are yours to look up; ask the vet"
        )
        yield Breach(rule=SLUG, text=text)


RULE = Rule(
    slug=SLUG,
    title="Where the law of the country is not known, the plan says so once.",
    why="What it does not know it cannot hold you to: silence would look like a yes.",
    severity="note",
    family="records",
    sources=("own-threshold",),
    whole=check,
)
