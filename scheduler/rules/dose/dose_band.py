"""dose-band: the label has a dose for the weights in the group."""

from collections.abc import Sequence

from scheduler.labels import NoBand
from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season
from scheduler.words import say_number, two_decimals

SLUG = "dose-band"


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """A first dose needs a band for the heaviest and the lightest; a repeat has its own ml."""
    if dose.first_day is not None:
        return None
    ml = season.dose_ml(dose)
    return of_dose(SLUG, dose, _text(ml), dose.label.where) if isinstance(ml, NoBand) else None


def _text(lack: NoBand) -> str:
    if lack.kg is None:
        return "the dose goes by weight, and no weight of the group is known"
    return f"the label states no dose for the {lack.lacks}, {say_number(two_decimals(lack.kg))} kg"


RULE = Rule(
    slug=SLUG,
    title="The label states a dose for the heaviest and for the lightest of the group.",
    why="Outside the weights of the label nobody knows the dose: too little does not protect, too much can poison.",
    severity="stop",
    family="dose",
    sources=("label-in-hand", "teagasc-dosing"),
    dose=check,
    sets_aside=True,
)
