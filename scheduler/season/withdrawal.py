"""Withdrawal: how many days, from which dose, and the first day the sheep may go."""

from collections.abc import Sequence
from datetime import date, timedelta

from msgspec import Struct

from scheduler.facts import country_facts, facts
from scheduler.farm import Direction
from scheduler.labels import Days


def clear_day(last_dose: date, days: int) -> date:
    """First day the sheep (milk, wool) may go: so many full days lie between it and the last dose.

    Source: `fimea-withdrawal` in the facts; the later of the two readings of a period in days.
    """
    return last_dose + timedelta(days=days + 1)


class Period(Struct, frozen=True):
    """A withdrawal in days as it is built up: on the label, off-label, organic. None: unknown or never."""

    stated: int | None
    off_label: int | None
    organic: int | None

    @property
    def days(self) -> int | None:
        """The period that holds."""
        return self.organic


def meat_period(stated: Days, country: str, organic: bool, directions: Sequence[Direction]) -> Period:
    """Meat withdrawal; off-label the longest that a vet wrote, and at least what the country's law asks."""
    law = country_facts(country)
    least = law.off_label_meat_days(stated) if law is not None and isinstance(stated, int) else 0
    return _period(stated, organic, [least, *(row.meat_days or 0 for row in directions)] if directions else [])


def milk_period(stated: Days, country: str, organic: bool, directions: Sequence[Direction]) -> Period:
    """Milk withdrawal; off-label the longest that a vet wrote, and at least what the country's law asks."""
    law = country_facts(country)
    least = law.off_label_milk_days(stated) if law is not None and isinstance(stated, int) else 0
    return _period(stated, organic, [least, *(row.milk_days or 0 for row in directions)] if directions else [])


def _period(stated: Days, organic: bool, off_label: Sequence[int]) -> Period:
    if not isinstance(stated, int):
        return Period(None, None, None)
    days = max(stated, *off_label) if off_label else stated
    return Period(stated, days, facts().figures.organic_days(days) if organic else days)
