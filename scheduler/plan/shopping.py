"""What must be bought: whole packs for what stock does not cover, and the last day to order."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from scheduler.farm import StockRow
from scheduler.labels import Label
from scheduler.plan.exact import less, times, total
from scheduler.plan.model import PackCount, Shopping
from scheduler.plan.packs import least_packs
from scheduler.plan.workdays import open_day_before
from scheduler.season import Doses, Season
from scheduler.words import half_up, plus

Need = tuple[date, Decimal]
"""Day of use, ml."""


@dataclass
class _Bottle:
    keeps_until: date
    ml: Decimal


def shopping_of(season: Season, doses: Doses) -> tuple[Shopping, ...]:
    """A line for each label of the doses still to be given, by label.

    Stock counts where it is in date and not open too long on a day of use. What goes out of date first is used first.
    """
    needs: dict[str, list[Need]] = {}
    for dose in doses:
        if dose.is_ours:
            ml = season.dose_ml(dose)
            amount = times(ml, dose.cohort.head) if isinstance(ml, Decimal) else Decimal(0)
            needs.setdefault(dose.label.id, []).append((dose.day, amount))
    return tuple(_line(season, season.farm.labels[name], of_label) for name, of_label in sorted(needs.items()))


def _line(season: Season, label: Label, needs: Sequence[Need]) -> Shopping:
    rows = [row for row in season.farm.stock
            if row.label == label.id and any(day <= keeps_until(label, row) for day, _ in needs)]  # fmt: skip
    short = shortfalls(label, rows, needs)
    counts = least_packs(label.packs, total(ml for _, ml in short))
    price = sum((Fraction(pack.price) * count for pack, count in counts), Fraction(0))
    return Shopping(
        label=label.id,
        ml=total(ml for _, ml in needs),
        in_stock_ml=total(row.ml for row in rows),
        packs=tuple(PackCount(pack.ml, count) for pack, count in sorted(counts, key=lambda pair: pair[0].ml)),
        money_minor=half_up(price * season.minor),
        order_by=_order_by(season, short[0][0]) if short else None,
    )


def _order_by(season: Season, day: date) -> date:
    return open_day_before(season, plus(day, -season.settings.order_lead_days))


def keeps_until(label: Label, row: StockRow) -> date:
    """Last day on which a row of the stock may be used: in date, and not open longer than the label allows."""
    days = [date.max if row.expires is None else row.expires]
    if row.opened is not None and label.opened_days is not None:
        days.append(plus(row.opened, label.opened_days))
    return min(days)


def shortfalls(label: Label, rows: Iterable[StockRow], needs: Iterable[Need]) -> list[Need]:
    """(day, ml) that the stock does not cover, in order of date."""
    bottles = sorted((_Bottle(keeps_until(label, row), row.ml) for row in rows), key=lambda one: one.keeps_until)
    short = []
    for day, ml in sorted(needs):
        wanted = ml
        for bottle in bottles:
            if day <= bottle.keeps_until:
                taken = min(wanted, bottle.ml)
                bottle.ml, wanted = less(bottle.ml, taken), less(wanted, taken)
        if wanted > 0:
            short.append((day, wanted))
    return short
