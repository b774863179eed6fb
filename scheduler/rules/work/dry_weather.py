"""dry-weather: some uses want dry wool before, and a dry sky after."""

from collections.abc import Iterable

from scheduler.labels import Use
from scheduler.rules.contract import Breach, Rule
from scheduler.season import Doses, Season
from scheduler.words import say_number

SLUG = "dry-weather"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Labels of doses still to be given, once each, with their uses that state dry hours before or after."""
    uses: dict[str, dict[str, Use]] = {}
    for dose in doses:
        if dose.is_ours and (dose.use.dry_hours_before is not None or dose.use.dry_hours_after is not None):
            uses.setdefault(dose.label.id, {})[dose.use.id] = dose.use
    for name, of_label in sorted(uses.items()):
        label = season.farm.labels[name]
        asked = "; ".join(f"{use.id}: {_asked(use)}" for _, use in sorted(of_label.items()))
        text = f"{label.name}: wait for dry wool and a dry sky ({asked})"
        yield Breach(rule=SLUG, text=text, where=label.where)


def _asked(use: Use) -> str:
    hours = ((use.dry_hours_before, "before"), (use.dry_hours_after, "after"))
    asked = [f"{say_number(number)} hours dry {when}" for number, when in hours if number]
    return " and ".join(asked) or "dry when it is given"


RULE = Rule(
    slug=SLUG,
    title="Where a label asks for dry hours, the dose waits for dry wool and a dry sky.",
    why="Rain washes out what has not yet bound to the wool grease: the sheep are bare and the water is fouled.",
    severity="warn",
    family="work",
    sources=("label-in-hand", "common-practice"),
    whole=check,
)
