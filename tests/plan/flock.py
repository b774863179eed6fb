"""A small invented farm as values: one group of ewes, one label, a fly season; and its doses and plans."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from typing import Any

from msgspec.structs import replace

from scheduler.farm import ClosedDays, Farm, Group, RecordRow, RiskRow, Sale, Settings
from scheduler.labels import Band, Label, Pack, Use
from scheduler.plan.earlier import EarlierPlan
from scheduler.plan.model import Task
from scheduler.plan.reconcile import Reconciled, reconcile
from scheduler.plan.tasks import build_tasks
from scheduler.season import Dose, Doses, Season
from scheduler.words import Target, Where

START, END = date(2027, 5, 1), date(2027, 9, 30)
BEFORE = date(2027, 4, 1)
ACT_LEVEL: dict[Target, Decimal] = dict.fromkeys(
    ("blowfly-strike", "ticks", "head-fly", "lice", "scab"), Decimal("0.3")
)  # fmt: skip


def may(day: int) -> date:
    """A day counted from 1 May 2027: may(32) is 1 June."""
    return date.fromordinal(START.toordinal() + day - 1)


def settings(**changed: Any) -> Settings:
    """Settings of the farm."""
    standard = Settings(
        name="Invented farm", id="invented", country="GB", timezone="Europe/London", latitude=Decimal("54.3"),
        longitude=Decimal(-2), start=START, end=END, currency="GBP", act_level=ACT_LEVEL, targets=("blowfly-strike",),
    )  # fmt: skip
    return replace(standard, **changed)


def closed(*days: date) -> tuple[ClosedDays, ...]:
    """Days on which no work is done."""
    return tuple(ClosedDays(text=day.isoformat(), days=frozenset({day}), where=Where("farm.toml")) for day in days)


def ewes(**changed: Any) -> Group:
    """The ewes: 50 head that stay."""
    standard = Group(
        name="Ewes", kind="ewe", head=50, mob="Ewes", heaviest_kg=Decimal(70), where=Where("groups.csv", 2)
    )
    return replace(standard, **changed)


def prevent(**changed: Any) -> Use:
    """A use that protects for 42 to 56 days: 10 ml a head."""
    standard = Use(
        id="guard", targets=("blowfly-strike",), purpose="prevent", protects_days=(42, 56), kinds=("ewe", "lamb"),
        bands=(Band(ml=Decimal(10)),), where=Where("labels/fly.toml"),
    )  # fmt: skip
    return replace(standard, **changed)


def label(**changed: Any) -> Label:
    """The label `fly`: 8 days for meat, packs of 2500 ml."""
    standard = Label(
        id="fly", name="Demo fly pour-on (invented)", active="cypermethrin", chemical_group="synthetic pyrethroid",
        form="pour-on", checked=date(2027, 1, 1), countries=("GB",), meat=8, milk=5, export=21, wool=60,
        packs=(Pack(ml=Decimal(2500), price=Decimal(92)),), where=Where("labels/fly.toml"),
        uses=(prevent(), prevent(id="struck", purpose="treat", protects_days=(0, 0))),
    )  # fmt: skip
    return replace(standard, **changed)


def sale(day: date, **changed: Any) -> Sale:
    """A sale of all ewes for slaughter."""
    standard = Sale(name="Mart", group="Ewes", head=50, day=day, purpose="slaughter", where=Where("sales.csv", 2))
    return replace(standard, **changed)


def risk(first: date, last: date, level: str = "0.6") -> RiskRow:
    """Days on which the flies are out."""
    return RiskRow(target="blowfly-strike", first=first, last=last, level=Decimal(level), where=Where("risk.csv", 2))


def row(day: date, place: int = 2, **changed: Any) -> RecordRow:
    """A row of record.csv: the guard given to all ewes."""
    standard = RecordRow(day=day, group="Ewes", label="fly", use="guard", head=50, where=Where("record.csv", place))
    return replace(standard, **changed)


def farm(**changed: Any) -> Farm:
    """The farm with its label."""
    standard = Farm(settings=settings(), groups=(ewes(),), labels={"fly": label()}, risk=(risk(may(31), may(60)),))
    return replace(standard, **changed)


def dose(season: Season, day: date, use: str = "guard", **changed: Any) -> Dose:
    """A planned dose of the first cohort."""
    of = season.farm.labels["fly"]
    found = of.use(use)
    assert found is not None
    return replace(Dose(day=day, cohort=season.cohorts[0], label=of, use=found), **changed)


def planned(season: Season, days: Iterable[date], earlier: EarlierPlan | None = None) -> EarlierPlan:
    """A plan with guards on these days beside what was done, as the plan that a later one finds."""
    reconciled = reconcile(season, earlier)
    return plan_of(season, tasks_of(season, [dose(season, day) for day in days], reconciled, earlier))


def tasks_of(
    season: Season, ours: Iterable[Dose], reconciled: Reconciled | None = None, earlier: EarlierPlan | None = None
) -> tuple[Task, ...]:
    """The tasks of a plan with these doses beside what was done and missed."""
    reconciled = reconcile(season, earlier) if reconciled is None else reconciled
    doses = Doses([*season.record, *reconciled.missed, *ours])
    return build_tasks(season, doses, reconciled, earlier)


def plan_of(season: Season, tasks: tuple[Task, ...]) -> EarlierPlan:
    """The tasks as an earlier plan."""
    own = season.settings
    return EarlierPlan(farm_id=own.id, start=own.start, end=own.end, made_for=season.made_for, tasks=tasks)


def of_kind(tasks: Iterable[Task], kind: str) -> list[Task]:
    """The tasks of one kind, in order."""
    return [task for task in tasks if task.kind == kind]


def later(season: Season, day: date, **changed: Any) -> Season:
    """The same farm on a later day, with tables changed."""
    return Season(replace(season.farm, **changed), day)
