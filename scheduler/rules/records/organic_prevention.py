"""organic-prevention: organic farms may not prevent with medicines on their own."""

from collections.abc import Iterable

from scheduler.facts import country_facts
from scheduler.rules.contract import Breach, Rule
from scheduler.season import Doses, Season

SLUG = "organic-prevention"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """On organic farms: labels with a prevent dose still to be given, once each."""
    prevent = {dose.label.id: dose.label for dose in doses if dose.is_ours and dose.use.purpose == "prevent"}
    law = country_facts(season.settings.country)
    asked = "" if law is None else f". {law.organic.said}"
    if season.settings.organic:
        for _, label in sorted(prevent.items()):
            text = f"{label.name}: planned to prevent; have the certifier's and the vet's yes in writing first{asked}"
            yield Breach(rule=SLUG, text=text, where=label.where)


RULE = Rule(
    slug=SLUG,
    title="On an organic farm a preventive dose waits for the certifier's and the vet's yes.",
    why="Organic rules forbid chemical medicines for prevention; without a yes the sheep lose their status.",
    severity="warn",
    family="records",
    sources=("eu-2018-848-organic", "country-law-memory"),
    whole=check,
)
