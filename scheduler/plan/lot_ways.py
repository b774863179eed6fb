"""Uneven sheep dosed in lots, each by its own heaviest: what that saves, all else as planned."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

from scheduler.labels import Lot, head_in_lots, lots_of
from scheduler.plan.model import Choice
from scheduler.rules import Breach
from scheduler.season import Season
from scheduler.verify import dose_money, task_money
from scheduler.words import say_number, total


def split_group(season: Season, breach: Breach) -> Iterator[Choice]:
    """The lots to part the sheep of a dose into; none where a lot has no dose, or where it saves nothing.

    Day, gather and cover stay as they are: nothing is to be planned again. Head from an even spread, or from one about
    the mean weight where that is known.
    """
    dose = breach.dose
    name = "" if dose is None else dose.cohort.group.name
    weight = None if dose is None else season.weights.on(name, dose.day)
    if dose is None or weight is None or weight.lightest is None or weight.heaviest is None:
        return
    if weight.lightest > weight.heaviest:
        return
    lots = lots_of(dose.use, weight.lightest, weight.heaviest)
    mls = [lot.ml for lot in lots if lot.ml is not None]
    if len(lots) < 2 or len(mls) < len(lots):
        return
    mean = season.weights.mean_on(name, dose.day)
    heads = head_in_lots(dose.cohort.head, lots, mean)
    task_ml = total(ml * head for ml, head in zip(mls, heads, strict=True))
    saved = mls[-1] * dose.cohort.head - task_ml
    if saved > 0:
        spread = "an even spread" if mean is None else "the mean weight"
        yield Choice(
            what="split-group",
            text=f"{_text(lots, mls, heads)}: {say_number(saved)} ml less; head reckoned from {spread}, weigh first",
            decides="keeper",
            exposed_sheep_days=0,
            money_minor=task_money(season, dose, task_ml) - dose_money(season, dose),
            handlings=0,
        )


def _text(lots: Sequence[Lot], mls: Sequence[Decimal], heads: Sequence[int]) -> str:
    lines = " and ".join(f"{say_number(lot.upto_kg)} kg" for lot in lots[:-1])
    parts = ", then ".join(f"{head} head at {say_number(ml)} ml" for ml, head in zip(mls, heads, strict=True))
    return f"part them at {lines} and dose light sheep first: {parts}"
