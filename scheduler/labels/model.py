"""One medicine label as the keeper filed it, and the ways of using it that it permits."""

from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from msgspec import Struct

from scheduler.words import Form, Kind, Target, Where

NotPermitted = Literal["not-permitted"]
Days = int | NotPermitted | None
"""A withdrawal period: whole days, "not-permitted", or None where the label file does not state it."""


class Band(Struct, frozen=True, kw_only=True):
    """A dose band: weights with above_kg < w <= upto_kg (None = open). One of ml, ml_per_kg, ml_per_100cm2 is set."""

    above_kg: Decimal | None = None
    upto_kg: Decimal | None = None
    ml: Decimal | None = None
    ml_per_kg: Decimal | None = None
    ml_per_100cm2: Decimal | None = None
    step_ml: Decimal | None = None
    most_ml: Decimal | None = None


class RepeatDuty(Struct, frozen=True, kw_only=True):
    """A second dose that the label obliges `after_days` days after the first, for sheep at or under upto_kg."""

    after_days: int
    ml: Decimal
    upto_kg: Decimal | None = None


class Use(Struct, frozen=True, kw_only=True):
    """One permitted way of using a label. protects_days and fleece_weeks are (least, most)."""

    id: str
    targets: tuple[Target, ...]
    purpose: Literal["prevent", "treat"]
    protects_days: tuple[int, int] = (0, 0)
    works_after_days: int = 0
    youngest_days: int = 0
    kinds: tuple[Kind, ...]
    minutes_per_head: Decimal | None = None
    fleece_weeks: tuple[int, int] | None = None
    dry_hours_before: Decimal | None = None
    dry_hours_after: Decimal | None = None
    ends_at: tuple[Literal["shearing", "dipping"], ...] = ()
    method: str = ""
    bands: tuple[Band, ...]
    repeats: tuple[RepeatDuty, ...] = ()
    where: Where


class Pack(Struct, frozen=True, kw_only=True):
    """A pack as sold: millilitres, and price in major units of the farm's currency."""

    ml: Decimal
    price: Decimal


class NotWith(Struct, frozen=True, kw_only=True):
    """Days that must lie between this label and any of the chemical group named."""

    chemical_group: str
    days: int


class Label(Struct, frozen=True, kw_only=True):
    """A label file: `id` is the file's stem, the name used everywhere. Periods in days; None = not stated."""

    id: str
    name: str
    active: str
    chemical_group: str
    form: Form
    checked: date | None = None
    edition: str = ""
    countries: tuple[str, ...] | None = None
    prescription: bool = False
    meat: Days = None
    milk: Days = None
    export: Days = None
    wool: int | None = None
    repeat_interval: int = 0
    most_per_season: int | None = None
    handling_days: int = 0
    opened_days: int | None = None
    not_before_lambing_days: int = 0
    not_with: tuple[NotWith, ...] = ()
    packs: tuple[Pack, ...]
    uses: tuple[Use, ...]
    where: Where

    @property
    def active_key(self) -> str:
        """The active as labels are compared by it: trimmed, in any case."""
        return self.active.strip().casefold()

    @property
    def group_key(self) -> str:
        """The chemical group as labels are compared by it: trimmed, in any case."""
        return self.chemical_group.strip().casefold()

    def use(self, use_id: str) -> Use | None:
        """The use with this id, or None."""
        return next((use for use in self.uses if use.id == use_id), None)

    def price_per_ml(self) -> Fraction:
        """The cheapest pack's price for a millilitre, exact, in major units."""
        return min(Fraction(pack.price) / Fraction(pack.ml) for pack in self.packs)
