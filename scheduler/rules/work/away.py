"""away: sheep that are not here cannot be dosed."""

from collections.abc import Sequence

from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season
from scheduler.words import say_day

SLUG = "away"


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """The cohort is on the farm that day, and not away."""
    cohort = dose.cohort
    if season.is_here(cohort, dose.day):
        return None
    if season.presence.on_farm(cohort, dose.day):
        return of_dose(SLUG, dose, f"away on {say_day(dose.day)}")
    gone = cohort.has_left(dose.day)
    when = f"gone since {say_day(cohort.leaves)}" if gone and cohort.leaves else "not yet on the farm"
    return of_dose(SLUG, dose, f"{when} on {say_day(dose.day)}", cohort.sale.where if gone and cohort.sale else None)


RULE = Rule(
    slug=SLUG,
    title="No dose on a day when the sheep are away, not yet there, or gone.",
    why="Sheep on other ground cannot be gathered.",
    severity="stop",
    family="work",
    sources=("own-threshold",),
    dose=check,
)
