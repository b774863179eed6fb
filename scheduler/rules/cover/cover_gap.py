"""cover-gap: days at risk without protection."""

from scheduler.rules.contract import Rule
from scheduler.rules.cover_runs import run_check

RULE = Rule(
    slug="cover-gap",
    title="Every day at risk is covered by protection that the label promises.",
    why="On an uncovered day at risk sheep can be struck or bitten: look them over daily until it is closed.",
    severity="warn",
    family="cover",
    sources=("own-threshold",),
    whole=run_check("cover-gap", "exposed", "at risk without protection"),
)
