"""weight-spread: one dose for all fits badly where the weights lie far apart."""

from collections.abc import Sequence

from scheduler.facts import facts
from scheduler.labels import band_of
from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season
from scheduler.words import say_number, two_decimals

SLUG = "weight-spread"


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """Of uses whose dose depends on weight: heaviest over the ratio of the facts times the lightest, or other bands."""
    weight = season.weights.on(dose.cohort.group.name, dose.day)
    if dose.first_day is not None or weight.heaviest is None or weight.lightest is None or not _by_weight(dose):
        return None
    ratio = facts().figures.weight_spread_ratio.value
    same = band_of(dose.use, weight.heaviest) == band_of(dose.use, weight.lightest)
    if weight.heaviest <= ratio * weight.lightest and same:
        return None
    light, heavy = say_number(two_decimals(weight.lightest)), say_number(two_decimals(weight.heaviest))
    text = f"{light} to {heavy} kg is a wide spread for one dose: weigh, and dose light and heavy sheep apart"
    return of_dose(SLUG, dose, text)


def _by_weight(dose: Dose) -> bool:
    return len(dose.use.bands) > 1 or any(band.ml_per_kg is not None for band in dose.use.bands)


RULE = Rule(
    slug=SLUG,
    title="Sheep of very different weight are better dosed in two lots.",
    why="The dose goes by the heaviest, so the lightest get far more than they need.",
    severity="warn",
    family="dose",
    sources=("own-threshold", "teagasc-dosing"),
    dose=check,
)
