"""What must be bought: whole packs for what stock does not cover, and the last day to order."""

from fractions import Fraction

from scheduler.plan.model import PackCount, Shopping
from scheduler.plan.packs import least_packs
from scheduler.season import Doses, Season, Supply, supplies
from scheduler.words import half_up, total


def shopping_of(season: Season, doses: Doses) -> tuple[Shopping, ...]:
    """A line for each label of the doses still to be given, by label."""
    return tuple(_line(season, supply) for supply in supplies(season, doses))


def _line(season: Season, supply: Supply) -> Shopping:
    counts = least_packs(supply.label.packs, total(ml for _, ml in supply.short))
    price = sum((Fraction(pack.price) * count for pack, count in counts), Fraction(0))
    return Shopping(
        label=supply.label.id,
        ml=total(ml for _, ml in supply.needs),
        in_stock_ml=total(row.ml for row in supply.rows),
        packs=tuple(PackCount(pack.ml, count) for pack, count in sorted(counts, key=lambda pair: pair[0].ml)),
        money_minor=half_up(price * season.minor),
        order_by=supply.order_by,
    )
