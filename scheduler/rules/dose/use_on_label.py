"""use-on-label: a medicine is used only as its label has it."""

from collections.abc import Sequence
from datetime import date

from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season
from scheduler.words import Where, say_day, say_days

SLUG = "use-on-label"


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """Kind of sheep, country, days before lambing, a repeat the label knows, and treating only what was found."""
    group, label, use = dose.cohort.group, dose.label, dose.use
    if group.kind not in use.kinds:
        return of_dose(SLUG, dose, f'the use "{use.id}" is for {", ".join(use.kinds)}; {group.name} are {group.kind}')
    if label.countries is not None and not season.holds_here(label):
        here = season.settings.country
        return of_dose(SLUG, dose, f"the label is for {', '.join(label.countries)}; the farm is in {here}", label.where)
    near = _lambing_near(season, dose)
    if near is not None:
        lambing, where = near
        limit = say_days(label.not_before_lambing_days)
        return of_dose(SLUG, dose, f"not within {limit} before lambing, which begins on {say_day(lambing)}", where)
    if dose.first_day is not None:
        if season.repeat_duty(dose.cohort, use, dose.first_day) is None:
            return of_dose(SLUG, dose, f'the use "{use.id}" has no repeat dose for sheep of this weight')
        return None
    if use.purpose == "treat" and not _is_found(season, dose, others):
        return of_dose(SLUG, dose, f"it treats {', '.join(use.targets)}, and no such finding stands on that day")
    return None


def _lambing_near(season: Season, dose: Dose) -> tuple[date, Where] | None:
    limit = dose.label.not_before_lambing_days
    for event in season.presence.events("lambing", dose.cohort.group.name):
        if 0 < (event.first - dose.day).days < limit:
            return event.first, event.where
    return None


def _is_found(season: Season, dose: Dose, others: Sequence[Dose]) -> bool:
    return any(season.findings.standing(dose.cohort, target, dose.day, others) for target in dose.use.targets)


RULE = Rule(
    slug=SLUG,
    title="A medicine is used only on the sheep, in the country and for the purpose that its label states.",
    why="What the label does not name was not tried: it may harm the sheep, leave residues, or not work.",
    severity="stop",
    family="dose",
    sources=("label-in-hand",),
    dose=check,
    sets_aside=True,
)
