"""youngest-age: the youngest sheep are old enough."""

from collections.abc import Sequence

from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season, age_days
from scheduler.words import say_days

SLUG = "youngest-age"


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """Age counts from the last born; an unknown age passes for adults."""
    age = age_days(dose.cohort.group, dose.day)
    if age is None or age >= dose.use.youngest_days:
        return None
    least = say_days(dose.use.youngest_days)
    young = f"the youngest are {say_days(age)} old" if age >= 0 else "the last are not born yet"
    return of_dose(SLUG, dose, f"{young}; the label asks for {least}")


RULE = Rule(
    slug=SLUG,
    title="No dose before the youngest of the group reach the age that the label states.",
    why="Very young lambs take up more of a medicine and stand less of it.",
    severity="stop",
    family="dose",
    sources=("label-in-hand", "cypermethrin-pour-on-sheet"),
    dose=check,
    sets_aside=True,
)
