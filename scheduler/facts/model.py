"""What a fact is: a figure of the trade or the law, with its unit, its source and how that source was seen."""

import math
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from msgspec import Struct

Seen = Literal["stored page", "derived", "from memory", "common practice, no source", "our own, no source"]


class Source(Struct, frozen=True):
    """Where facts come from. `read` is the day on which its stored page was read, None where none was."""

    id: str
    title: str
    publisher: str
    section: str
    read: date | None
    seen: Seen

    @property
    def text(self) -> str:
        """The source in one line, as the outputs print it."""
        parts = [self.title, self.publisher, self.section]
        if self.read is not None:
            parts.append(f"read {self.read.isoformat()}")
        elif self.seen == "from memory":
            parts.append("from memory")
        return ", ".join(part for part in parts if part)


class Fact(Struct, frozen=True):
    """One figure. `source` is an id of the sources; `seen` says how far it may be trusted."""

    value: Decimal
    unit: str
    source: str
    seen: Seen

    @property
    def whole(self) -> int:
        """The value as a whole number; ValueError where it has a fraction (a mistake in our own data)."""
        if self.value != self.value.to_integral_value():
            raise ValueError(f"{self.value} {self.unit} is no whole number")
        return int(self.value)


class RecordFields(Struct, frozen=True):
    """What the law wants in the medicine record: columns of record.csv, and the whole list in words."""

    columns: tuple[str, ...]
    text: str
    source: str
    seen: Seen


class ScabMovement(Struct, frozen=True):
    """Whether the law forbids moving sheep while scab stands; `forbidden` None where it was not looked up."""

    forbidden: bool | None
    text: str
    source: str
    seen: Seen


class Law(Struct, frozen=True):
    """What the law of a place asks, in a sentence of our own."""

    text: str
    source: str
    seen: Seen

    @property
    def said(self) -> str:
        """The sentence, and that it is from memory where it is."""
        return f"{self.text} (From memory: ask where you farm.)" if self.seen == "from memory" else self.text


class CountryFacts(Struct, frozen=True):
    """Law of a country, or of a part of one that has facts of its own; None where the figure is not known.

    dip_watercourse_m, dip_well_m: least distance, in metres, of a place for dipping from a watercourse, and from a
    well, spring or borehole.
    """

    code: str
    name: str
    off_label_meat_factor: Fact | None
    off_label_milk_factor: Fact | None
    off_label_milk_least: Fact | None
    record_years: Fact | None
    dip_watercourse_m: Fact | None
    dip_well_m: Fact | None
    record_fields: RecordFields
    scab_movement: ScabMovement
    store_sale: Law
    dip_competence: Law
    dip_water: Law
    organic: Law

    def off_label_meat_days(self, stated: int) -> int:
        """Least meat withdrawal, in days, of a dose outside the label that states `stated` days; 0 where not known."""
        return _times(stated, self.off_label_meat_factor) if self.off_label_meat_factor else 0

    def off_label_milk_days(self, stated: int) -> int:
        """Least milk withdrawal, in days, of a dose outside the label that states `stated` days; 0 where not known."""
        factor, least = self.off_label_milk_factor, self.off_label_milk_least
        return max(_times(stated, factor) if factor else 0, least.whole if least else 0)


class Figures(Struct, frozen=True):
    """The single figures, by name; figures.toml gives each its unit and source."""

    weight_spread_ratio: Fact
    label_check_days: Fact
    high_challenge_level: Fact
    high_challenge_parts: Fact
    dirty_fleece_days: Fact
    done_within_days: Fact
    repeat_slack_days: Fact
    pour_on_water_hours: Fact
    isolation_days: Fact
    organic_factor: Fact
    organic_least_days: Fact
    record_years: Fact
    lamb_heaviest_birth_kg: Fact
    lamb_lightest_birth_kg: Fact
    heaviest_growth_factor: Fact
    lightest_growth_factor: Fact
    struck_area_cm2: Fact

    def organic_days(self, stated: int) -> int:
        """Withdrawal of an organic farm, in days, for a period of `stated` days."""
        return max(_times(stated, self.organic_factor), self.organic_least_days.whole)


class Caution(Struct, frozen=True):
    """A usual caution. `when` is "always", a form of medicine, or treat, lambs, organic, off-label, estimate."""

    id: str
    when: str
    text: str
    sources: tuple[str, ...]


class RiskTable(Struct, frozen=True):
    """Levels (0 to 1) of a target from January to December, northern hemisphere, up to a latitude in degrees."""

    target: str
    upto_latitude: Decimal
    levels: tuple[Decimal, ...]
    unit: str
    source: str
    seen: Seen


class Kit(Struct, frozen=True):
    """What to lay out and what to wear, for one form of medicine or for every form."""

    kit: tuple[str, ...]
    clothing: tuple[str, ...]
    source: str
    seen: Seen


class WorkDay(Struct, frozen=True):
    """What a work day needs: the load's allowance in percent, the order of sheep, and kit by form of medicine."""

    load_allowance: Fact
    order_of_sheep: str
    every_form: Kit
    kits: dict[str, Kit]


class Facts(Struct, frozen=True):
    """All facts. `risk` stands in order of latitude within a target; `cautions` in order of the file."""

    sources: dict[str, Source]
    countries: dict[str, CountryFacts]
    figures: Figures
    cautions: tuple[Caution, ...]
    risk: tuple[RiskTable, ...]
    work_day: WorkDay

    def source(self, source_id: str) -> Source:
        """The source of that id; KeyError where there is none."""
        return self.sources[source_id]

    def cautions_for(self, *when: str) -> tuple[Caution, ...]:
        """The cautions that always hold, and those of the words given, in the order of the file."""
        wanted = {"always", *when}
        return tuple(caution for caution in self.cautions if caution.when in wanted)


def _times(stated: int, factor: Fact) -> int:
    return math.ceil(stated * Fraction(factor.value))
