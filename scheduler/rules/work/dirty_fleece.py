"""dirty-fleece: wool soiled with dung does not carry a pour-on or spray-on."""

from collections.abc import Sequence
from datetime import timedelta

from scheduler.facts import facts
from scheduler.farm import Finding
from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season
from scheduler.words import say_day

SLUG = "dirty-fleece"


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """Dags found in the group at most so many days before a pour-on or spray-on dose, and not taken off since.

    Crutching and shearing take them off, on the day of the finding too; so does the day from which they are cleared.
    """
    if dose.label.form not in ("pour-on", "spray-on"):
        return None
    found = [row for row in season.farm.findings if _stands(season, dose, row)]
    if not found:
        return None
    last = max(found, key=lambda row: row.day)
    text = f"dags were found on {say_day(last.day)} and no crutching or shearing since: clip them off first"
    return of_dose(SLUG, dose, text, last.where)


def _stands(season: Season, dose: Dose, row: Finding) -> bool:
    most = timedelta(days=facts().figures.dirty_fleece_days.whole)
    if row.what != "dags" or row.group != dose.cohort.group.name or not row.day <= dose.day <= row.day + most:
        return False
    cleaned = season.event_days(dose.cohort, "crutching", "shearing")
    return (row.cleared is None or dose.day < row.cleared) and not any(row.day <= day <= dose.day for day in cleaned)


RULE = Rule(
    slug=SLUG,
    title="Dags are clipped off before a pour-on or spray-on goes on.",
    why="Dung carries the medicine away from the skin and draws the flies; the dose is spent on it.",
    severity="warn",
    family="work",
    sources=("common-practice", "own-threshold"),
    dose=check,
)
