"""repeat-interval: courses of one active stand far enough apart."""

from scheduler.labels import Label
from scheduler.rules.contract import Apart, Rule
from scheduler.season import Season

SLUG = "repeat-interval"


def apart(season: Season, one: Label, other: Label) -> Apart:
    """First doses of one active: the longer interval of the two labels. Any two of its doses: never on one day."""
    if one.active_key != other.active_key:
        return Apart()
    return Apart(firsts=max(one.repeat_interval, other.repeat_interval), doses=1)


RULE = Rule(
    slug=SLUG,
    title="Courses of one active keep the interval of the label, and it is given at most once a day.",
    why="Doses too close together add up in the animal and in its meat, and breed flies and ticks that survive them.",
    severity="stop",
    family="dose",
    sources=("label-in-hand",),
    apart=apart,
    sets_aside=True,
)
