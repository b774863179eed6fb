"""lambing-quiet: ewes at lambing are left in peace."""

from collections.abc import Sequence

from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season
from scheduler.words import say_day

SLUG = "lambing-quiet"


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """No dose to the groups that lamb, from the first to the last day of lambing."""
    for event in season.presence.events("lambing", dose.cohort.group.name):
        if event.first <= dose.day <= event.last:
            text = f"lambing from {say_day(event.first)} to {say_day(event.last)}"
            return of_dose(SLUG, dose, text, event.where)
    return None


RULE = Rule(
    slug=SLUG,
    title="No dose to a group while it lambs.",
    why="Gathering at lambing parts ewes from newborn lambs and costs lives.",
    severity="stop",
    family="work",
    sources=("common-practice",),
    dose=check,
)
