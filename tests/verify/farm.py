"""A small invented farm for sums and seeded faults: ewes and lambs in one mob, one label, work that costs money."""

from datetime import date
from decimal import Decimal
from typing import Any

from msgspec.structs import replace

from scheduler.farm import Farm, Settings
from scheduler.labels import Band, Pack
from scheduler.rules import with_directions
from scheduler.season import Dose, Doses, Season
from scheduler.verify import unlawful
from tests.plan.flock import BEFORE, ewes, label, may, prevent, risk, settings
from tests.season.hill import cohort, lambs

GUARD = prevent(protects_days=(14, 20), bands=(Band(upto_kg=Decimal(30), ml=Decimal(3)), Band(
    above_kg=Decimal(30), ml=Decimal("7.5"))), minutes_per_head=Decimal("0.4"))  # fmt: skip
CURE = prevent(id="struck", purpose="treat", protects_days=(0, 0), minutes_per_head=Decimal(1))
FLY = label(packs=(Pack(ml=Decimal(1000), price=Decimal("33.35")), Pack(ml=Decimal(2500), price=Decimal("90.00"))),
            uses=(GUARD, CURE), repeat_interval=7, wool=None)  # fmt: skip


def working(**changed: Any) -> Settings:
    """An hour costs 12.50, a gather takes 75 minutes."""
    return settings(labour_per_hour=Decimal("12.50"), gather_minutes=Decimal(75), **changed)


def season(made_for: date = BEFORE, **changed: Any) -> Season:
    """50 ewes of 70 kg and 40 lambs of 20 to 25 kg in mob Hill; flies out from 5 to 30 May."""
    standard = Farm(
        settings=working(),
        groups=(
            ewes(mob="Hill", lightest_kg=Decimal(55)),
            lambs(heaviest_kg=Decimal(25), lightest_kg=Decimal(20), growth_kg_per_day=Decimal(0)),
        ),
        labels={"fly": FLY},
        risk=(risk(may(5), may(30)),),
    )
    return Season(replace(standard, **changed), made_for)


def given(of: Season, day: int, who: str = "Ewes/stay", use: str = "guard", **changed: Any) -> Dose:
    """A planned dose on a day of May."""
    with_label = of.farm.labels[changed.pop("label", "fly")]
    found = with_label.use(use)
    assert found is not None
    return replace(Dose(day=may(day), cohort=cohort(of, who), label=with_label, use=found), **changed)


def broken(of: Season, *doses: Dose) -> set[str]:
    """The slugs that the judge finds in planned doses beside what was done."""
    return {breach.rule for breach in unlawful(of, with_directions(of, Doses([*of.record, *doses])))}
