"""competence: dips are for people who have learnt it."""

from collections.abc import Iterable

from scheduler.facts import country_facts
from scheduler.rules.contract import Breach, Rule
from scheduler.season import Doses, Season

SLUG = "competence"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Dips of doses still to be given, once a label, with what the country asks of those who buy and use them."""
    law = country_facts(season.settings.country)
    asked = "whether the country asks for a certificate is not known here: ask before you buy"
    if law is not None:
        asked = law.dip_competence.said
    dips = {dose.label.id: dose.label for dose in doses if dose.is_ours and dose.label.form == "dip"}
    for _, label in sorted(dips.items()):
        yield Breach(rule=SLUG, text=f"{label.name}: {asked}", where=label.where)


RULE = Rule(
    slug=SLUG,
    title="Whoever buys or uses sheep dip has the certificate that the country asks for.",
    why="Dip poisons people and rivers; the certificate says that its holder knows how to keep it off both.",
    severity="note",
    family="records",
    sources=("england-dip-code", "scotland-dip-certificate", "country-law-memory"),
    whole=check,
)
