"""An invented hill farm as values: ewes with lambs at foot in one mob, rams apart; days counted from 1 May 2027."""

from datetime import date
from decimal import Decimal
from typing import Any

from msgspec.structs import replace

from scheduler.farm import Event, Finding, Group, Sale, Weighing
from scheduler.season import Cohort, Season
from scheduler.words import EventKind, Where
from tests.plan.flock import BEFORE, ewes, farm, may

BORN = date(2027, 4, 10)


def lambs(**changed: Any) -> Group:
    """40 lambs in the ewes' mob, born 10 to 20 April, growing 200 g a day."""
    standard = Group(
        name="Lambs", kind="lamb", head=40, mob="Hill", born_first=BORN, born_last=date(2027, 4, 20),
        growth_kg_per_day=Decimal("0.2"), where=Where("groups.csv", 3),
    )  # fmt: skip
    return replace(standard, **changed)


def rams() -> Group:
    """Five rams, alone."""
    return Group(name="Rams", kind="ram", head=5, mob="Rams", where=Where("groups.csv", 4))


def event(what: EventKind, first: date, last: date | None = None, groups: str = "Ewes") -> Event:
    """An event of the groups named, parted by `;`."""
    return Event(what=what, first=first, last=last or first, groups=tuple(groups.split(";")),
                 where=Where("events.csv", 2))  # fmt: skip


def sale(name: str, head: int, day: date, group: str = "Lambs", **changed: Any) -> Sale:
    """A store sale."""
    standard = Sale(name=name, group=group, head=head, day=day, purpose="store", where=Where("sales.csv", 2))
    return replace(standard, **changed)


def finding(row: int, day: date, group: str = "Lambs", **changed: Any) -> Finding:
    """Strike found on one lamb, in this row of findings.csv."""
    return replace(Finding(day=day, group=group, what="blowfly-strike", where=Where("findings.csv", row)), **changed)


def weighing(day: date, heaviest: str, lightest: str | None = None, group: str = "Lambs") -> Weighing:
    """A row of weights.csv."""
    light = None if lightest is None else Decimal(lightest)
    return Weighing(day=day, group=group, heaviest_kg=Decimal(heaviest), lightest_kg=light,
                    where=Where("weights.csv", 2))  # fmt: skip


def season(*events: Event, made_for: date = BEFORE, **changed: Any) -> Season:
    """The hill farm with these events, and other tables changed."""
    groups = (ewes(mob="Hill"), lambs(), rams())
    return Season(farm(**{"groups": groups, "events": events, **changed}), made_for)


def cohort(of: Season, name: str) -> Cohort:
    """The cohort of this id."""
    return next(one for one in of.cohorts if one.id == name)


def heads(of: Season, group: str = "Lambs") -> dict[str, int]:
    """The cohorts of a group by id, with their heads."""
    return {one.id: one.head for one in of.cohorts_of_group(group)}


__all__ = ["BORN", "cohort", "event", "finding", "heads", "lambs", "may", "rams", "sale", "season", "weighing"]
