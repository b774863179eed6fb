"""dirty-fleece: wool soiled with dung does not carry a pour-on or spray-on."""

from collections.abc import Sequence

from scheduler.farm import standing_dags
from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season
from scheduler.words import say_day

SLUG = "dirty-fleece"


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """Dags found in the group that still stand on the day of a pour-on or spray-on dose."""
    if dose.label.form not in ("pour-on", "spray-on"):
        return None
    last = standing_dags(season.farm, dose.cohort.group.name, dose.day)
    if last is None:
        return None
    text = f"dags were found on {say_day(last.day)} and no crutching or shearing since: clip them off first"
    return of_dose(SLUG, dose, text, last.where)


RULE = Rule(
    slug=SLUG,
    title="Dags are clipped off before a pour-on or spray-on goes on.",
    why="Dung carries the medicine away from the skin and draws the flies; the dose is spent on it.",
    severity="warn",
    family="work",
    sources=("common-practice", "own-threshold"),
    dose=check,
)
