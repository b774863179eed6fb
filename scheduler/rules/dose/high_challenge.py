"""high-challenge: the label may not hold to its last day where flies or ticks press hard."""

from collections.abc import Iterator, Sequence
from datetime import date

from scheduler.facts import facts
from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season, planning_days
from scheduler.words import Target, days_of, plus, say_day, say_number

SLUG = "high-challenge"


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """A level at or over that of the facts on one of the last planning days of a dose that works.

    The last third of the planning days, a part day left out; days after an event has ended the cover are none, nor are
    those before made_for or outside the season.
    """
    found = list(_hard_days(season, dose)) if dose.works else []
    if not found:
        return None
    day, target = found[0]
    level = say_number(season.base_level(dose.cohort, target, day))
    text = f"{target} at level {level} on {say_day(day)}, late in its protection: it may fall short; look sooner"
    return of_dose(SLUG, dose, text)


def _hard_days(season: Season, dose: Dose) -> Iterator[tuple[date, Target]]:
    figures = facts().figures
    days = planning_days(dose.use, season.settings.caution)
    last = plus(dose.day, days - 1)
    cover = season.cover(dose.cohort, dose.use, dose.day).cover
    for day in days_of(plus(last, 1 - days // figures.high_challenge_parts.whole), last):
        for target in dose.use.targets:
            near = day in cover and day in season.window and target in season.targets
            if near and season.base_level(dose.cohort, target, day) >= figures.high_challenge_level.value:
                yield day, target


RULE = Rule(
    slug=SLUG,
    title="Where the risk is high late in a dose's protection, the sheep are looked over sooner.",
    why="The days on a label hold for usual challenge: in bad fly weather or on bad tick ground it may run out before.",
    severity="warn",
    family="dose",
    sources=("own-threshold", "common-practice"),
    dose=check,
)
