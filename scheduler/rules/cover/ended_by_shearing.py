"""ended-by-shearing: shearing or dipping takes the protection away."""

from collections.abc import Iterable

from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Doses, Season
from scheduler.words import say_day

SLUG = "ended-by-shearing"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Doses still to be given whose cover an event cuts short."""
    for dose in doses:
        cut = season.cover(dose.cohort, dose.use, dose.day).cut_by
        if not dose.is_ours or cut is None:
            continue
        events = [event for event in season.farm.events if event.first == cut and event.what in dose.use.ends_at
                  and dose.cohort.group.name in event.groups]  # fmt: skip
        text = f"the protection ends with {events[0].what} on {say_day(cut)}"
        yield of_dose(SLUG, dose, text, events[0].where)


RULE = Rule(
    slug=SLUG,
    title="Shearing or dipping ends the protection of a dose given before it.",
    why="The medicine goes with the fleece, or is washed off.",
    severity="note",
    family="cover",
    sources=("label-in-hand",),
    whole=check,
)
