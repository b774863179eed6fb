"""Who is where on a day: cohorts, mobs, housing, away, lambing, free gathers and closed days, day by day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cache
from typing import Any

from dateutil.rrule import rrulestr

from tests.oracle.folder import Event, Farm, Finding, Group, Sale

GATHERING = ("shearing", "crutching", "weaning", "dipping", "turnout", "housing", "gather", "arrival")
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
ONE = timedelta(days=1)


@dataclass(frozen=True)
class Cohort:
    """Sheep of one group with one way out; `source` and `found` only for those found struck."""

    id: str
    group: Group
    head: int
    sale: Sale | None
    source: str | None = None
    found: Finding | None = None


def span(first: date, last: date) -> list[date]:
    """Every day from first to last, both included."""
    return [first + ONE * number for number in range((last - first).days + 1)]


def cohorts_of(farm: Farm, group: Group) -> list[Cohort]:
    """The sales, the stay and the found-ROW cohorts of one group, empty ones left out."""
    sales = sorted((sale for sale in farm.sales if sale.group == group.name), key=lambda sale: (sale.day, sale.row))
    left: dict[str, int] = {sale.name: sale.head for sale in sales}
    stay = group.head - sum(left.values())
    found: list[Cohort] = []
    for finding in farm.findings:
        if finding.group != group.name or finding.what in ("lice", "scab", "dags") or finding.head >= group.head:
            continue
        name, need = f"{group.name}/found-{finding.row}", finding.head
        taken = min(stay, need)
        if taken:
            found.append(Cohort(name, group, taken, None, f"{group.name}/stay", finding))
        stay, need = stay - taken, need - taken
        for sale in reversed(sales):
            taken = min(left[sale.name], need)
            if taken:
                found.append(Cohort(f"{name}/{sale.name}", group, taken, sale, f"{group.name}/{sale.name}", finding))
            left[sale.name], need = left[sale.name] - taken, need - taken
    kept = [Cohort(f"{group.name}/{sale.name}", group, left[sale.name], sale) for sale in sales if left[sale.name]]
    if stay:
        kept.append(Cohort(f"{group.name}/stay", group, stay, None))
    return kept + found


class Flock:
    """The farm's calendar as sheep and people meet it."""

    def __init__(self, farm: Farm) -> None:
        self.farm = farm
        self.start: date = farm.toml["season"]["start"]
        self.end: date = farm.toml["season"]["end"]
        self.today = farm.today
        self.opening = max(farm.today, self.start)
        self.cohorts = {one.id: one for group in farm.groups.values() for one in cohorts_of(farm, group)}
        self.work: dict[str, Any] = farm.toml.get("work", {})
        self.closed = self._closed()
        self._mob = cache(self._mob_of)
        self._out = cache(self._is_away)
        self._in = cache(self._is_housed)
        self._free = cache(self._is_free)

    def _closed(self) -> set[date]:
        days: set[date] = set()
        for text in self.work.get("closed", []):
            words = str(text).lower().split()
            if len(words) == 2 and words[0] == "every":
                number = WEEKDAYS.index(words[1])
                days |= {day for day in span(self.start, self.end) if day.weekday() == number}
            elif "FREQ" in str(text).upper():
                rule = rrulestr(str(text), dtstart=datetime(self.start.year, self.start.month, self.start.day))  # noqa: DTZ001
                stop = datetime(self.end.year, self.end.month, self.end.day)  # noqa: DTZ001
                days |= {moment.date() for moment in rule.between(datetime(1990, 1, 1), stop, inc=True)}  # noqa: DTZ001
            else:
                days.add(date.fromisoformat(str(text)))
        return days

    def window(self) -> list[date]:
        """Days on which a dose may be planned at all."""
        return span(self.opening, self.end)

    def leaves(self, cohort: Cohort) -> date | None:
        """First day no longer on the farm, None for those who stay."""
        days = [day for day in (cohort.group.leaves, cohort.sale.day if cohort.sale else None) if day is not None]
        return min(days, default=None)

    def has_left(self, cohort: Cohort, day: date) -> bool:
        leaves = self.leaves(cohort)
        return leaves is not None and day >= leaves

    def on_farm(self, cohort: Cohort, day: date) -> bool:
        first = cohort.group.arrives or cohort.group.born_first or self.start
        return first <= day and not self.has_left(cohort, day)

    def events(self, what: str, group: str) -> list[Event]:
        """Events of one kind that name the group, by date."""
        return sorted(
            (e for e in self.farm.events if e.what == what and group in e.groups), key=lambda e: (e.day, e.row)
        )

    def _mob_of(self, group: str, day: date) -> str:
        own = self.farm.groups[group]
        if own.kind == "lamb" and any(event.day < day for event in self.events("weaning", group)):
            return f"{own.mob} weaned"
        return own.mob

    def mob_of(self, group: str, day: date) -> str:
        return self._mob(group, day)

    def _touching(self, what: str, group: str, on: date | None = None) -> list[Event]:
        """Housing, turnout or away events the group obeys: its own, or those of the mob a lamb follows.

        The mob is that of the day `on`, or of each event's own date.
        """
        named = self.events(what, group)
        if named or self.farm.groups[group].kind != "lamb":
            return named
        return [
            event
            for event in sorted(self.farm.events, key=lambda e: (e.day, e.row))
            if event.what == what
            and any(
                self.mob_of(other, on or event.day) == self.mob_of(group, on or event.day) for other in event.groups
            )
        ]

    def _is_away(self, group: str, day: date) -> bool:
        return any(event.day <= day <= event.end for event in self._touching("away", group, day))

    def away(self, group: str, day: date) -> bool:
        return self._out(group, day)

    def _is_housed(self, group: str, day: date) -> bool:
        ins = [event.day for event in self._touching("housing", group)]
        outs = [event.day for event in self._touching("turnout", group)]
        for first in ins:
            if first <= day and not any(first < out <= day for out in outs):
                return True
        bare = [out for out in outs if not any(first < out for first in ins)]
        return bool(bare) and self.start <= day < min(bare)

    def housed(self, group: str, day: date) -> bool:
        return self._in(group, day)

    def lambing(self, group: str, day: date) -> bool:
        return any(event.day <= day <= event.end for event in self.events("lambing", group))

    def _is_free(self, mob: str, day: date) -> bool:
        return any(
            event.what in GATHERING
            and event.day <= day <= event.end
            and any(self.mob_of(group, day) == mob for group in event.groups)
            for event in self.farm.events
        )

    def free(self, mob: str, day: date) -> bool:
        """Is the mob gathered that day anyhow, by an event of any of its groups?"""
        return self._free(mob, day)

    def mob_row(self, mob: str) -> dict[str, str]:
        return self.farm.mobs.get(mob.removesuffix(" weaned"), {})

    def only_events(self, mob: str) -> bool:
        return self.mob_row(mob).get("gather_on") == "events"

    def last_shearing(self, group: str, day: date) -> date | None:
        days = [event.day for event in self.events("shearing", group) if event.day <= day]
        return max(days, default=None)
