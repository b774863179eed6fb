"""stock-short: the cupboard does not hold enough until an order can come."""

from collections.abc import Iterable
from datetime import date

from scheduler.rules.contract import Breach, Rule
from scheduler.season import Doses, Season, supplies
from scheduler.words import plus, say_day, say_number, total

SLUG = "stock-short"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Labels whose stock leaves doses short on days before an order of made_for, the next open day, can be there."""
    comes = plus(_open_day_from(season, season.made_for), season.settings.order_lead_days)
    for supply in supplies(season, doses):
        short = [need for need in supply.short if need[0] < comes]
        if short:
            text = (
                f"{supply.label.name}: {say_number(total(ml for _, ml in short))} ml are short from "
                f"{say_day(short[0][0])} on, before an order of today can be there on {say_day(comes)}"
            )
            yield Breach(rule=SLUG, text=text, where=supply.label.where)


def _open_day_from(season: Season, day: date) -> date:
    while day in season.closed and day < date.max:
        day = plus(day, 1)
    return day


RULE = Rule(
    slug=SLUG,
    title="Stock reaches for every dose until the next order can come.",
    why="Half a lot dosed leaves the other half to the flies, and tempts to stretch what is there: too little breeds "
    "resistance.",
    severity="warn",
    family="work",
    sources=("own-threshold", "teagasc-dosing"),
    whole=check,
)
