"""Withdrawal: how many days, from which dose, and the first day the sheep may go."""

from dataclasses import dataclass
from datetime import date, timedelta

from scheduler.facts import country_facts, facts
from scheduler.farm import Direction
from scheduler.labels import Days


def clear_day(last_dose: date, days: int) -> date:
    """First day the sheep (milk, wool) may go: so many full days lie between it and the last dose.

    Source: `fimea-withdrawal` in the facts; the later of the two readings of a period in days.
    """
    return last_dose + timedelta(days=days + 1)


@dataclass(frozen=True, slots=True)
class Period:
    """A withdrawal in days as it is built up: on the label, off-label, organic. None: unknown or never."""

    stated: int | None
    off_label: int | None
    organic: int | None

    @property
    def days(self) -> int | None:
        """The period that holds."""
        return self.organic


def meat_period(stated: Days, country: str, organic: bool, direction: Direction | None) -> Period:
    """Meat withdrawal; with a direction at least what the vet wrote and what the country's law asks."""
    given = None if direction is None else direction.meat_days
    law = country_facts(country)
    least = law.off_label_meat_days(stated) if law is not None and isinstance(stated, int) else None
    return _period(stated, organic, direction, given, least)


def milk_period(stated: Days, country: str, organic: bool, direction: Direction | None) -> Period:
    """Milk withdrawal; with a direction at least what the vet wrote and what the country's law asks."""
    given = None if direction is None else direction.milk_days
    law = country_facts(country)
    least = law.off_label_milk_days(stated) if law is not None and isinstance(stated, int) else None
    return _period(stated, organic, direction, given, least)


def _period(stated: Days, organic: bool, direction: Direction | None, given: int | None, least: int | None) -> Period:
    if not isinstance(stated, int):
        return Period(None, None, None)
    off_label = stated if direction is None else max(stated, given or 0, least or 0)
    return Period(stated, off_label, facts().figures.organic_days(off_label) if organic else off_label)
