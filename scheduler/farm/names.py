"""What the rows of one table may refer to in others."""

from collections.abc import Container, Mapping
from datetime import date
from decimal import Decimal
from typing import TypeVar

from msgspec import Struct

from scheduler.farm.model import Group
from scheduler.labels import Label
from scheduler.tables import Fields, Known, known_names, name, reference, text

V = TypeVar("V", date, Decimal)


class Doubts:
    """Groups of which some row of a table has a fault, so that nothing can be said to be missing for them.

    A faulty row of a group that nobody knows may be meant for any group.
    """

    def __init__(self, known: Container[str]) -> None:
        self._known = known
        self._groups: set[str] = set()
        self._any = False

    def note(self, row: Fields) -> None:
        """Take in a row, once it is read."""
        if row.failed:
            self._groups.add(row.raw("group"))
            self._any = self._any or row.raw("group") not in self._known

    def about(self, group: str) -> bool:
        """Whether a faulty row may be one of this group."""
        return self._any or group in self._groups or group not in self._known


class Names(Struct, frozen=True, kw_only=True):
    """Groups, mobs and labels by name. `group_of` and `label_of` hold those without a fault of their own."""

    groups: Known
    mobs: Known
    labels: Known
    group_of: Mapping[str, Group]
    label_of: Mapping[str, Label]

    def group(self, row: Fields) -> str:
        """The group that a row names."""
        return row.need("group", reference(self.groups, name))

    def some_groups(self, row: Fields) -> tuple[str, ...]:
        """The groups that a row names; all of them where it says "all"."""
        if row.raw("groups") == "all":
            return tuple(self.groups.places)
        return known_names(row, "groups", self.groups)

    def label_and_use(self, row: Fields) -> tuple[str, str]:
        """The label that a row names, and the use, which must be one of that label."""
        label, use = row.need("label", reference(self.labels, text)), row.need("use", text)
        filed = self.label_of.get(label)
        if filed is not None and use is not None and filed.use(use) is None:
            uses = Known("use", {one.id: one.where for one in filed.uses}, _uses_where(filed))
            row.fault("use", f'found "{use}"', f'the label "{label}" has no such use', uses.mend(use))
        return label, use


def _uses_where(label: Label) -> str:
    return label.where.file if label.where.sheet is None else "the sheet uses"


def before_birth(row: Fields, column: str, day: date, group: Group | None) -> None:
    """Takes in a fault where a row of a group is dated before its first birth."""
    if group is not None and group.born_first is not None and not row.failed and day < group.born_first:
        expected = f'"{group.name}" is born from {group.born_first} on ({group.where})'
        row.fault(column, f"found {day}", expected, "correct one of the two dates")


def ordered(row: Fields, earlier: str, least: V | None, later: str, most: V | None) -> None:
    """Takes in a fault where the cell `later` holds less than the cell `earlier`; absent ones are not compared."""
    if least is not None and most is not None and most < least:
        row.fault(later, f"found {most}", f"{earlier} is {least}", f"write no less than {earlier}, or correct that")
