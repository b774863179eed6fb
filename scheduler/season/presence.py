"""Where sheep are on a day: on the farm, away, housed; and in which mob."""

from datetime import date
from functools import cache

from scheduler.farm import Event, Farm, Group
from scheduler.season.cohorts import Cohort
from scheduler.words import EventKind

GATHERING: frozenset[EventKind] = frozenset(
    ("shearing", "crutching", "weaning", "dipping", "turnout", "housing", "gather", "arrival")
)
"""Events that bring their mob in anyway."""


class Presence:
    """Answers by group name and day; the scope of every event stands here."""

    def __init__(self, farm: Farm) -> None:
        self._farm = farm
        self._groups = {group.name: group for group in farm.groups}
        self._named: dict[tuple[EventKind, str], list[Event]] = {}
        for event in farm.events:
            for name in event.groups:
                self._named.setdefault((event.what, name), []).append(event)
        self.mob_of = cache(self._mob_of)
        self.is_away = cache(self._is_away)
        self.is_housed = cache(self._is_housed)
        self.gather_event = cache(self._gather_event)

    def events(self, what: EventKind, group: str) -> list[Event]:
        """The events of one kind that name the group, in the order of events.csv."""
        return self._named.get((what, group), [])

    def _mob_of(self, group: str, day: date) -> str:
        """The mob of the group on the day; lambs leave theirs on the day after their weaning."""
        own = self._groups[group]
        weaned = own.kind == "lamb" and any(event.first < day for event in self.events("weaning", group))
        return f"{own.mob} weaned" if weaned else own.mob

    def mob_groups(self, mob: str, day: date) -> tuple[str, ...]:
        """Names of the groups in the mob on the day, in the order of groups.csv."""
        return tuple(name for name in self._groups if self.mob_of(name, day) == mob)

    def _followed(self, what: EventKind, group: str, day: date | None) -> list[Event]:
        """Events of one kind that act on the group; lambs follow their mob unless a row of that kind names them.

        day None: mob membership on each event's own date; else on that day.
        """
        named = self.events(what, group)
        if named or self._groups[group].kind != "lamb":
            return named
        return [
            event
            for event in self._farm.events
            if event.what == what
            and any(self.mob_of(other, day or event.first) == self.mob_of(group, day or event.first)
                    for other in event.groups)
        ]  # fmt: skip

    def _is_away(self, group: str, day: date) -> bool:
        return any(event.first <= day <= event.last for event in self._followed("away", group, day))

    def turnouts(self, group: str) -> list[Event]:
        """The turnouts that act on the group: its own, and for lambs those of their mob."""
        return self._followed("turnout", group, None)

    def _is_housed(self, group: str, day: date) -> bool:
        """From a housing to the day before the next turnout; before a first turnout without housing too."""
        turnouts = [event.first for event in self.turnouts(group)]
        housings = [event.first for event in self._followed("housing", group, None)]
        begun = max((first for first in housings if first <= day), default=None)
        if begun is not None:
            return not any(begun < turnout <= day for turnout in turnouts)
        first_out = min(turnouts, default=date.min)
        return day < first_out and not any(first <= first_out for first in housings)

    def _gather_event(self, mob: str, day: date) -> Event | None:
        """An event that brings the mob in on the day anyway, or None."""
        for event in self._farm.events:
            here = event.what in GATHERING and event.first <= day <= event.last
            if here and any(self.mob_of(name, day) == mob for name in event.groups):
                return event
        return None

    def on_farm(self, cohort: Cohort, day: date) -> bool:
        """Whether the cohort is on the farm (it may be away on that day all the same)."""
        return self.comes(cohort.group) <= day and not cohort.has_left(day)

    def comes(self, group: Group) -> date:
        """First day on the farm: it arrives, else is born, else was there at the season's start."""
        return group.arrives or group.born_first or self._farm.settings.start
