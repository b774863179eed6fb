"""What the budget and the frontier add to season plan."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING

import click

from scheduler.cli.shared import refuse

if TYPE_CHECKING:
    from scheduler.farm import Farm
    from scheduler.plan import EarlierPlan, Explainer, Plan

MOST_DIGITS = 30


class Money(click.ParamType[Decimal]):
    """An amount in major units, with every digit: 45 or 45.00."""

    name = "money"

    def convert(self, value: object, param: click.Parameter | None, context: click.Context | None) -> Decimal:
        """The amount; a usage error where it is none."""
        try:
            amount = Decimal(str(value))
        except InvalidOperation:
            amount = Decimal("NaN")
        if not amount.is_finite() or amount < 0 or len(str(value)) > MOST_DIGITS or "e" in str(value).lower():
            self.fail(f"{value!r} is no amount of money such as 45.00.", param, context)
        return amount


def minor_units(amount: Decimal, farm: "Farm") -> int:
    """The whole minor units of the farm's currency in an amount of major units."""
    from scheduler.farm import minor_decimals

    return int(amount.scaleb(minor_decimals(farm.settings.currency)))


def plan_for(
    amount: Decimal,
    farm: "Farm",
    today: date,
    earlier: "EarlierPlan | None",
    out_of_time: Callable[[], bool],
    as_json: bool,
) -> "tuple[Plan, Explainer]":
    """The best plan of at most so much money, with what explains it.

    Ends with exit code 2 where the wishes and owed repeats cost more.
    """
    from scheduler.farm import minor_decimals
    from scheduler.plan import TooLittle, plan_within_to_explain
    from scheduler.report import money_text
    from scheduler.words import Fault, Faults, Where

    currency = farm.settings.currency
    exponent = minor_decimals(currency)
    made = plan_within_to_explain(farm, today, earlier, minor_units(amount, farm), out_of_time)
    if isinstance(made, TooLittle):
        least = money_text(made.least, currency, exponent)
        expected = f"expected at least {least}, which the accepted wishes and owed repeats cost"
        mend = "allow as much, or take wishes out of wishes.csv"
        refuse(Faults((Fault(Where("--at-most"), f"found {amount}", expected, mend),)), as_json)
    return made
