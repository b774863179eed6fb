"""turnout-to-ticks: sheep go out to tick ground without protection."""

from collections.abc import Iterable
from datetime import date

from scheduler.farm import Event
from scheduler.rules.contract import Breach, Rule
from scheduler.season import Cohort, Doses, Season, state_of
from scheduler.words import say_day

SLUG = "turnout-to-ticks"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Turnouts from made_for on, with the groups at risk of ticks on that day by the level and not covered."""
    if "ticks" not in season.targets:
        return
    for event in season.farm.events:
        if event.what == "turnout" and event.first in season.window:
            bare = [one.group.name for one in season.cohorts if _is_bare(season, doses, one, event)]
            if bare:
                names = "; ".join(dict.fromkeys(bare))
                text = f"{names}: turned out on {say_day(event.first)} into tick risk, and not covered on that day"
                yield Breach(rule=SLUG, text=text, group=names, where=event.where)


def _is_bare(season: Season, doses: Doses, cohort: Cohort, event: Event) -> bool:
    if event not in season.presence.turnouts(cohort.group.name):
        return False
    return _state(season, doses, cohort, event.first) in ("exposed", "fading")


def _state(season: Season, doses: Doses, cohort: Cohort, day: date) -> str:
    return state_of(season, cohort, "ticks", day, doses.of(cohort))[1]


RULE = Rule(
    slug=SLUG,
    title="Sheep that are turned out to tick ground are covered from that day on.",
    why="Ticks wait on the hill and bite on the first day: what is given at the next gather comes late.",
    severity="note",
    family="cover",
    sources=("milne-1945", "common-practice"),
    whole=check,
)
