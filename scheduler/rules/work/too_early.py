"""too-early: a preventive dose is not spent on days without risk."""

from collections.abc import Sequence

from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season
from scheduler.words import Span, Target, plus, say_day, say_days

SLUG = "too-early"


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """A first prevent dose must cover an at-risk day within lead_days; a standing finding is a risk."""
    if dose.use.purpose != "prevent" or dose.first_day is not None:
        return None
    near, targets = near_days(season, dose), shared_targets(season, dose)
    if any(season.is_risk_between(dose.cohort, target, near.first, near.last) for target in targets):
        return None
    if any(_is_found(season, dose, target, near, others) for target in targets):
        return None
    lead = say_days(season.settings.lead_days)
    text = f"no day at risk within {lead} of {say_day(dose.day)} that the dose would cover"
    return of_dose(SLUG, dose, text)


def near_days(season: Season, dose: Dose) -> Span:
    """The days of the dose's cover up to lead_days after it."""
    cover = season.cover(dose.cohort, dose.use, dose.day).cover
    return Span(cover.first, min(cover.last, plus(dose.day, season.settings.lead_days)))


def shared_targets(season: Season, dose: Dose) -> list[Target]:
    """The targets that use and plan share."""
    return [target for target in dose.use.targets if target in season.targets]


def _is_found(season: Season, dose: Dose, target: Target, near: Span, others: Sequence[Dose]) -> bool:
    if not season.findings.of(dose.cohort, target):
        return False
    return any(
        season.is_here(dose.cohort, day) and season.findings.standing(dose.cohort, target, day, others)
        for day in near.days()
    )


RULE = Rule(
    slug=SLUG,
    title="A preventive dose is planned only shortly before days at risk that it covers.",
    why="Given too early, the medicine is spent when the flies come.",
    severity="warn",
    family="work",
    sources=("own-threshold",),
    dose=check,
)
