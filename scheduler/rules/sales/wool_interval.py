"""wool-interval: no shearing while the medicine is still in the wool."""

from collections.abc import Sequence

from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season, clear_day
from scheduler.words import say_day

SLUG = "wool-interval"


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """Shearings after the dose, while the cohort is on the farm; silent for shedding sheep."""
    wool, cohort = dose.label.wool, dose.cohort
    if wool is None or cohort.group.wool == "shedding":
        return None
    clear = clear_day(dose.day, wool)
    for event in season.shearings(cohort):
        if dose.day < event.first < clear and season.presence.on_farm(cohort, event.first):
            text = f"shearing on {say_day(event.first)} ({event.where}); wool is clear on {say_day(clear)}"
            return of_dose(SLUG, dose, text, event.where)
    return None


RULE = Rule(
    slug=SLUG,
    title="A dose stands so far before shearing that the wool is clear of it.",
    why="Shearers handle the wool with bare hands, and scoured wool carries residues into rivers.",
    severity="stop",
    family="sales",
    sources=("label-in-hand", "au-withholding"),
    dose=check,
)
