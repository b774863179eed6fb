"""Cohorts: the parts of each group that are decided for together."""

from collections.abc import Iterator
from datetime import date
from functools import cached_property

from msgspec import Struct

from scheduler.farm import Farm, Finding, Group, Sale
from scheduler.words import Target

WHOLE_MOB_TARGETS: tuple[Target, ...] = ("lice", "scab")
"""A finding of these concerns every sheep that mixes with those found."""


class Cohort(Struct, frozen=True, kw_only=True, eq=False, dict=True):
    """Sheep of one group with one way out. `source` is the cohort that found sheep were taken from."""

    id: str
    group: Group
    head: int
    sale: Sale | None = None
    finding: Finding | None = None
    source: str | None = None

    @cached_property
    def leaves(self) -> date | None:
        """The day on which it is no longer on the farm: its sale, or the day its group leaves."""
        sold = None if self.sale is None else self.sale.day
        return min((day for day in (self.group.leaves, sold) if day is not None), default=None)

    def has_left(self, day: date) -> bool:
        """Whether it left on or before the day."""
        return self.leaves is not None and self.leaves <= day


class _Part(Struct, dict=True):
    id: str
    head: int
    sale: Sale | None


def is_apart(finding: Finding, group: Group) -> bool:
    """Whether the sheep found make cohorts of their own: fewer than the group, and a target that is theirs alone."""
    return finding.what != "dags" and finding.what not in WHOLE_MOB_TARGETS and (finding.head or 1) < group.head


def cohorts_of(farm: Farm) -> tuple[Cohort, ...]:
    """All cohorts of the farm, groups in the order of groups.csv, ids within a group by code point."""
    return tuple(
        cohort for group in farm.groups for cohort in sorted(_of_group(farm, group), key=lambda cohort: cohort.id)
    )


def _of_group(farm: Farm, group: Group) -> Iterator[Cohort]:
    sales = [sale for sale in farm.sales if sale.group == group.name]
    parts = [_Part(f"{group.name}/stay", group.head - sum(sale.head for sale in sales), None)]
    latest_first = sorted(sales, key=lambda sale: (sale.day, sale.name), reverse=True)
    parts += [_Part(f"{group.name}/{sale.name}", sale.head, sale) for sale in latest_first]
    for finding in farm.findings:
        if finding.group == group.name and is_apart(finding, group):
            yield from _found(group, finding, parts)
    for part in parts:
        if part.head > 0:
            yield Cohort(id=part.id, group=group, head=part.head, sale=part.sale)


def _found(group: Group, finding: Finding, parts: list[_Part]) -> Iterator[Cohort]:
    """The cohorts of the sheep found: taken from those that stay, then from the latest sale still to come."""
    wanted = finding.head or 1
    for part in parts:
        if part.sale is not None and part.sale.day <= finding.day:
            continue
        taken = min(wanted, part.head)
        if taken <= 0:
            continue
        part.head -= taken
        wanted -= taken
        tail = "" if part.sale is None else f"/{part.sale.name}"
        name = f"{group.name}/found-{finding.where.row}{tail}"
        yield Cohort(id=name, group=group, head=taken, sale=part.sale, finding=finding, source=part.id)
