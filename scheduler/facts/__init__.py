"""Facts of the trade and the law: figures with unit and source, cautions, and the built-in levels of risk."""

from scheduler.facts.biology import (
    Biology,
    FlyFigures,
    HeadFlyFigures,
    Measure,
    SheepFigures,
    TickFigures,
    biology,
)
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
    "Biology",
    "Caution",
    "CountryFacts",
    "Fact",
    "Facts",
    "Figures",
    "FlyFigures",
    "HeadFlyFigures",
    "Kit",
    "LabelRange",
    "Law",
    "Measure",
    "RecordFields",
    "RiskTable",
    "ScabMovement",
    "Seen",
    "SheepFigures",
    "Source",
    "TickFigures",
    "WorkDay",
    "biology",
    "country_facts",
    "facts",
    "label_ranges",
]
