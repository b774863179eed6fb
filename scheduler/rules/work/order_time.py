"""order-time: the last day to order a medicine in time is over."""

from collections.abc import Iterable

from scheduler.rules.contract import Breach, Rule
from scheduler.season import Doses, Season, supplies
from scheduler.words import say_day

SLUG = "order-time"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Labels of doses still to be given whose last day to order lies before made_for."""
    for supply in supplies(season, doses):
        if supply.order_by is not None and supply.order_by < season.made_for:
            needed = say_day(supply.short[0][0])
            text = (
                f"{supply.label.name}: was to be ordered by {say_day(supply.order_by)} for the dose of {needed}; "
                "order now, and ask whether it comes in time"
            )
            yield Breach(rule=SLUG, text=text, where=supply.label.where)


RULE = Rule(
    slug=SLUG,
    title="Medicine is ordered so early that it is there on the day of the dose.",
    why="Sheep gathered for a dose that has not come are gathered for nothing.",
    severity="warn",
    family="work",
    sources=("own-threshold",),
    whole=check,
)
