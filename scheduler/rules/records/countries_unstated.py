"""countries-unstated: a label file that does not say where its label holds."""

from collections.abc import Iterable

from scheduler.rules.contract import Breach, Rule
from scheduler.season import Doses, Season

SLUG = "countries-unstated"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Labels of doses still to be given, once each, whose file states no countries: they are taken to hold here."""
    labels = {dose.label.id: dose.label for dose in doses if dose.is_ours}
    for _, label in sorted(labels.items()):
        if label.countries is None:
            here = season.settings.country
            text = f"{label.name}: the file states no countries, so it is taken to hold in {here}: look on the leaflet"
            yield Breach(rule=SLUG, text=text, where=label.where)


RULE = Rule(
    slug=SLUG,
    title="A label file says in which countries the label holds.",
    why="The same medicine has other uses and other withdrawals abroad; a foreign label does not hold here.",
    severity="warn",
    family="records",
    sources=("label-in-hand",),
    whole=check,
)
