"""What a task is called: a uid that rests on what the task is, never on its date."""

import json
from collections.abc import Iterable, Sequence
from datetime import date
from uuid import UUID, uuid5

from scheduler.farm import Settings
from scheduler.plan.model import Task

NAMESPACE = UUID("6b1f7f43-0d5c-4a0e-9a3a-5f0a5d0c27e1")
"""Root of our name-based uids. Source: RFC 9562, 5.5 (version 5); RFC 7986, 5.3 asks for uids without a host's name."""

Series = tuple[str, ...]
"""The words that tasks of one kind share when only their number tells them apart."""


def series_of(task: Task) -> Series:
    """The series of a task that is numbered: a dose, re-check, preparation or order."""
    if task.kind == "dose":
        return ("dose", task.cohort or "", task.label or "", task.use or "")
    if task.kind == "recheck":
        return ("recheck", "cohort", task.cohort) if task.cohort else ("recheck", "mob", task.group or "")
    return ("order", task.label or "") if task.kind == "order" else (task.kind,)


class Uids:
    """Uids of one farm's season. `taken`: those of the earlier plan, which no new task may have."""

    def __init__(self, settings: Settings, taken: Iterable[str] = ()) -> None:
        self._farm = (settings.id or settings.name, str(settings.start.year))
        self._taken = set(taken)

    def named(self, *words: str) -> str:
        """The uid of the one task that these words name."""
        return str(uuid5(NAMESPACE, json.dumps([*self._farm, *words], ensure_ascii=False)))

    def next(self, series: Series) -> str:
        """The uid with the least number of the series that was never used."""
        number = 1
        while (uid := self.named(*series, str(number))) in self._taken:
            number += 1
        self._taken.add(uid)
        return uid


def carry_over(new: Sequence[date], old: Sequence[date]) -> list[int | None]:
    """For each new day the position of the old one that it takes over, or None. Both lists are ascending.

    As many pairs as the shorter list has, in the same order, least sum of days moved; of equal sums the earliest old.
    """
    if len(new) <= len(old):
        return list(_places(new, old))
    found: list[int | None] = [None] * len(new)
    for place, taken in enumerate(_places(old, new)):
        found[taken] = place
    return found


def _places(few: Sequence[date], many: Sequence[date]) -> list[int]:
    """Ascending places in `many`, one for each of `few`, with the least sum of distances; of equal ones the least."""
    width = len(many) + 1
    table: list[list[int | None]] = [[0] * width]
    for at in reversed(range(len(few))):
        after = table[-1]
        row: list[int | None] = [None] * width
        for place in reversed(range(len(many))):
            row[place] = _least(_taking(few[at], many[place], after[place + 1]), row[place + 1])
        table.append(row)
    table.reverse()
    places, place = [], 0
    for at, day in enumerate(few):
        while table[at][place] != _taking(day, many[place], table[at + 1][place + 1]):
            place += 1
        places.append(place)
        place += 1
    return places


def _taking(day: date, other: date, rest: int | None) -> int | None:
    return None if rest is None else abs((day - other).days) + rest


def _least(one: int | None, other: int | None) -> int | None:
    return min((cost for cost in (one, other) if cost is not None), default=None)
