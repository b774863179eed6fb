"""milk-withdrawal: milking sheep get only what the label permits in milk."""

from collections.abc import Sequence

from scheduler.rules.contract import Breach, Rule, of_dose
from scheduler.season import Dose, Season

SLUG = "milk-withdrawal"


def check(season: Season, dose: Dose, others: Sequence[Dose]) -> Breach | None:
    """For groups with milk: the label must state days; off-label the vet must have written them."""
    if not dose.cohort.group.milk:
        return None
    if not isinstance(dose.label.milk, int):
        found = "is not permitted" if dose.label.milk == "not-permitted" else "is not stated"
        return of_dose(SLUG, dose, f"use in sheep milked for people {found} on the label", dose.label.where)
    for direction in dose.directions:
        if direction.milk_days is None:
            return of_dose(SLUG, dose, "the vet's direction states no milk withdrawal", direction.where)
    return None


RULE = Rule(
    slug=SLUG,
    title="Sheep milked for people get only medicines whose label states a milk withdrawal.",
    why="Residues pass into milk, and there is no safe day where nobody has measured one.",
    severity="stop",
    family="sales",
    sources=("label-in-hand", "fimea-withdrawal"),
    dose=check,
)
