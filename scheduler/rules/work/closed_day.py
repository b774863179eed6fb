"""closed-day: no work on days that the keeper has closed."""

from collections.abc import Sequence

from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season
from scheduler.words import say_day

SLUG = "closed-day"


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """Closed days; and in a mob gathered only for events, prevent doses on other days."""
    if dose.day in season.closed:
        entry = next(entry for entry in season.settings.closed if dose.day in entry.days)
        return of_dose(SLUG, dose, f'{say_day(dose.day)} is closed ("{entry.text}")', entry.where)
    mob = season.presence.mob_of(dose.cohort.group.name, dose.day)
    row = season.mob_row(mob)
    only_events = row.gather_on == "events" and dose.use.purpose == "prevent"
    if only_events and season.presence.gather_event(mob, dose.day) is None:
        return of_dose(SLUG, dose, f"{mob} come in only with an event, and none gathers them that day", row.where)
    return None


RULE = Rule(
    slug=SLUG,
    title="No dose on a closed day, nor between gathers where a mob comes in only for events.",
    why="A date that nobody can keep is worse than none.",
    severity="stop",
    family="work",
    sources=("own-threshold",),
    dose=check,
)
