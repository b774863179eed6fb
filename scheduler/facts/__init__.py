"""Facts of the trade and the law: figures with unit and source, cautions, and the built-in levels of risk."""

from scheduler.facts.label_ranges import LabelRange, label_ranges
from scheduler.facts.model import (
    Caution,
    CountryFacts,
    Fact,
    Facts,
    Figures,
    Kit,
    Law,
    RecordFields,
    RiskTable,
    ScabMovement,
    Seen,
    Source,
    WorkDay,
)
from scheduler.facts.read import country_facts, facts

__all__ = [
    "Caution",
    "CountryFacts",
    "Fact",
    "Facts",
    "Figures",
    "Kit",
    "LabelRange",
    "Law",
    "RecordFields",
    "RiskTable",
    "ScabMovement",
    "Seen",
    "Source",
    "WorkDay",
    "country_facts",
    "facts",
    "label_ranges",
]
