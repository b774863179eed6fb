"""water-care: medicines for the skin kill what lives in water."""

from collections.abc import Iterable

from scheduler.facts import CountryFacts, country_facts, facts
from scheduler.labels import Label
from scheduler.rules.contract import Breach, Rule
from scheduler.season import Doses, Season
from scheduler.words import say_number

SLUG = "water-care"
ON_THE_WOOL = ("pour-on", "spray-on", "dip")


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Pour-ons, spray-ons and dips of doses still to be given, once a label."""
    law = country_facts(season.settings.country)
    labels = {dose.label.id: dose.label for dose in doses if dose.is_ours and dose.label.form in ON_THE_WOOL}
    for _, label in sorted(labels.items()):
        yield Breach(rule=SLUG, text=f"{label.name}: {_care(label, law)}", where=label.where)


def _care(label: Label, law: CountryFacts | None) -> str:
    if label.form != "dip":
        hours = facts().figures.pour_on_water_hours.value
        least = "1 hour" if hours == 1 else f"{say_number(hours)} hours"
        return f"keep the sheep off streams and ponds for at least {least}, longer where the label says so"
    if law is None:
        return "what the country asks of places for dipping is not known here: ask before you dip"
    far = ((law.dip_watercourse_m, "streams and wet ground"), (law.dip_well_m, "wells and springs"))
    least = " and ".join(f"{say_number(fact.value)} m from {what}" for fact, what in far if fact is not None)
    return f"dip at least {least}. {law.dip_water.said}" if least else law.dip_water.said


RULE = Rule(
    slug=SLUG,
    title="Medicine, washings and treated sheep stay away from water.",
    why="Very little of these medicines kills what lives in a stream, and the law punishes whoever lets them in.",
    severity="note",
    family="records",
    sources=(
        "common-practice",
        "pour-on-watercourse",
        "england-dip-code",
        "scotland-dip-rules",
        "ireland-spent-dip",
        "country-law-memory",
    ),
    whole=check,
)
