"""What stands in the cupboard against the doses still to be given: what counts, what is short, when to order."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from msgspec import Struct

from scheduler.farm import StockRow
from scheduler.labels import Label
from scheduler.season.doses import Doses
from scheduler.season.season import Season
from scheduler.words import less, plus, times

Need = tuple[date, Decimal]
"""Day of use, ml."""


class Supply(Struct, frozen=True):
    """One label: what its doses need, the rows of the stock that count, what they leave short, the last day to order.

    `needs` and `short` in order of date. `order_by` is None where nothing is short.
    """

    label: Label
    needs: tuple[Need, ...]
    rows: tuple[StockRow, ...]
    short: tuple[Need, ...]
    order_by: date | None


def supplies(season: Season, doses: Doses) -> tuple[Supply, ...]:
    """A supply for each label of the doses still to be given, by label.

    Stock counts where it is in date and not open too long on a day of use. What goes out of date first is used first.
    """
    needs: dict[str, list[Need]] = {}
    for dose in doses:
        if dose.is_ours:
            ml = season.dose_ml(dose)
            amount = times(ml, dose.cohort.head) if isinstance(ml, Decimal) else Decimal(0)
            needs.setdefault(dose.label.id, []).append((dose.day, amount))
    return tuple(
        _supply(season, season.farm.labels[name], sorted(of_label)) for name, of_label in sorted(needs.items())
    )


def _supply(season: Season, label: Label, needs: list[Need]) -> Supply:
    rows = tuple(row for row in season.farm.stock
                 if row.label == label.id and any(day <= keeps_until(label, row) for day, _ in needs))  # fmt: skip
    short = _shortfalls(label, rows, needs)
    order_by = open_day_before(season, plus(short[0][0], -season.settings.order_lead_days)) if short else None
    return Supply(label, tuple(needs), rows, short, order_by)


def open_day_before(season: Season, day: date) -> date:
    """The day itself where it is open, else the last open day before it."""
    while day in season.closed and day > date.min:
        day = plus(day, -1)
    return day


def keeps_until(label: Label, row: StockRow) -> date:
    """Last day on which a row of the stock may be used: in date, and not open longer than the label allows."""
    days = [date.max if row.expires is None else row.expires]
    if row.opened is not None and label.opened_days is not None:
        days.append(plus(row.opened, label.opened_days))
    return min(days)


class _Bottle(Struct, dict=True):
    keeps_until: date
    ml: Decimal


def _shortfalls(label: Label, rows: Iterable[StockRow], needs: Iterable[Need]) -> tuple[Need, ...]:
    """(day, ml) that the stock does not cover."""
    bottles = sorted((_Bottle(keeps_until(label, row), row.ml) for row in rows), key=lambda one: one.keeps_until)
    short = []
    for day, ml in needs:
        wanted = ml
        for bottle in bottles:
            if day <= bottle.keeps_until:
                taken = min(wanted, bottle.ml)
                bottle.ml, wanted = less(bottle.ml, taken), less(wanted, taken)
        if wanted > 0:
            short.append((day, wanted))
    return tuple(short)
