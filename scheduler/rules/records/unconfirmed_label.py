"""unconfirmed-label: figures that nobody has compared with the leaflet."""

from collections.abc import Iterable

from scheduler.facts import facts
from scheduler.rules.contract import Breach, Rule
from scheduler.season import Doses, Season
from scheduler.words import say_day

SLUG = "unconfirmed-label"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Labels of doses still to be given, without `checked`, checked too long ago or after made_for."""
    most = facts().figures.label_check_days.whole
    labels = {dose.label.id: dose.label for dose in doses if dose.is_ours}
    for _, label in sorted(labels.items()):
        if label.checked is None:
            text = f"{label.name}: not compared with the leaflet; draft until `checked` is filled in"
        elif label.checked > season.made_for:
            text = f"{label.name}: `checked` lies ahead, on {say_day(label.checked)}; draft until then"
        elif (season.made_for - label.checked).days > most:
            text = f"{label.name}: compared with the leaflet on {say_day(label.checked)}, over {most} days ago"
        else:
            continue
        yield Breach(rule=SLUG, text=text, where=label.where)


RULE = Rule(
    slug=SLUG,
    title="Every figure of a label is compared with the leaflet in hand before the plan is followed.",
    why="A mistyped withdrawal is the worst error of all, and nothing else would catch it.",
    severity="warn",
    family="records",
    sources=("label-in-hand", "own-threshold"),
    whole=check,
)
