"""fleece-weeks: the fleece is as long as the label asks."""

from collections.abc import Sequence

from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season
from scheduler.words import say_day

SLUG = "fleece-weeks"
WEEK = 7


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """Weeks since the latest shearing on or before the day; silent for shedding sheep and where none is known."""
    weeks = dose.use.fleece_weeks
    if weeks is None or dose.cohort.group.wool == "shedding":
        return None
    shorn = [event for event in season.shearings(dose.cohort) if event.first <= dose.day]
    if not shorn:
        return None
    days = (dose.day - shorn[-1].first).days
    if weeks[0] * WEEK <= days <= weeks[1] * WEEK:
        return None
    when = say_day(shorn[-1].first)
    text = f"shorn on {when}, {days} days before; the label asks for {weeks[0]} to {weeks[1]} weeks of fleece"
    return of_dose(SLUG, dose, text, shorn[-1].where)


RULE = Rule(
    slug=SLUG,
    title="The fleece is neither shorter nor longer than the label allows.",
    why="The medicine is carried by wool grease: on too little wool it does not hold, in too much it does not spread.",
    severity="stop",
    family="dose",
    sources=("label-in-hand",),
    dose=check,
    sets_aside=True,
)
