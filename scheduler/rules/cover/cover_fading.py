"""cover-fading: days on which the label may still give protection, shown and not relied on."""

from scheduler.rules.contract import Rule
from scheduler.rules.cover_runs import run_check

RULE = Rule(
    slug="cover-fading",
    title="Days on which a label may still give protection are shown, and not relied on.",
    why="The longer figure on a label holds for light challenge and good application only.",
    severity="note",
    family="cover",
    sources=("own-threshold",),
    whole=run_check("cover-fading", "fading", "on days that the label may still give"),
)
