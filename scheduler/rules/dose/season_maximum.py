"""season-maximum: no more courses in the season than the label allows."""

from scheduler.labels import Label
from scheduler.rules.contract import Count, Rule
from scheduler.season import Season

SLUG = "season-maximum"
NO_LIMIT = 10**9


def count(season: Season, label: Label) -> Count:
    """Courses of one active count together, whatever the label; the least maximum among those given holds."""
    return Count(label.active_key, NO_LIMIT if label.most_per_season is None else label.most_per_season)


RULE = Rule(
    slug=SLUG,
    title="A cohort has no more courses of one active in a season than any label used allows.",
    why="The maximum keeps residues in bounds and slows resistance.",
    severity="stop",
    family="dose",
    sources=("label-in-hand",),
    count=count,
    sets_aside=True,
)
