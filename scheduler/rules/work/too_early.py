"""too-early: a preventive dose is not spent on days without risk."""

from collections.abc import Sequence
from datetime import date, timedelta

from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season
from scheduler.words import Target, say_day, say_days

SLUG = "too-early"


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """A first prevent dose must cover an at-risk day within lead_days; a standing finding is a risk."""
    if dose.use.purpose != "prevent" or dose.first_day is not None:
        return None
    if any(
        season.is_at_risk(dose.cohort, target, day)
        or (season.is_here(dose.cohort, day) and season.findings.standing(dose.cohort, target, day, others))
        for target, day in near_days(season, dose)
    ):
        return None
    lead = say_days(season.settings.lead_days)
    text = f"no day at risk within {lead} of {say_day(dose.day)} that the dose would cover"
    return of_dose(SLUG, dose, text)


def near_days(season: Season, dose: Dose) -> list[tuple[Target, date]]:
    """Days of the dose's cover up to lead_days after it, for each target that use and plan share."""
    cover = season.cover(dose.cohort, dose.use, dose.day).cover
    latest = dose.day + timedelta(days=season.settings.lead_days)
    days = [day for day in cover.days() if day <= latest]
    return [(target, day) for target in dose.use.targets if target in season.targets for day in days]


RULE = Rule(
    slug=SLUG,
    title="A preventive dose is planned only shortly before days at risk that it covers.",
    why="Given too early, the medicine is spent when the flies come.",
    severity="warn",
    family="work",
    sources=("own-threshold",),
    dose=check,
)
