"""product-clash: chemicals that must not meet stand far enough apart."""

from scheduler.labels import Label
from scheduler.rules.contract import Apart, Rule
from scheduler.season import Season

SLUG = "product-clash"


def apart(season: Season, one: Label, other: Label) -> Apart:
    """The longest gap that either label asks for towards the other's chemical group; none with itself."""
    if one.id == other.id:
        return Apart()
    return Apart(doses=max(_asks(one, other), _asks(other, one)))


def _asks(one: Label, other: Label) -> int:
    named = (row.days for row in one.not_with if row.chemical_group.strip().casefold() == other.group_key)
    return max(named, default=0)


RULE = Rule(
    slug=SLUG,
    title="Medicines of chemical groups that a label names stay apart by the days it states.",
    why="Some chemicals together poison sheep at doses that are safe alone.",
    severity="stop",
    family="dose",
    sources=("label-in-hand", "diazinon-dip-sheet"),
    apart=apart,
)
