"""groups.csv."""

from collections.abc import Iterable, Iterator
from decimal import Decimal
from typing import Literal

from scheduler.farm.model import Group
from scheduler.farm.names import ordered
from scheduler.tables import Columns, Fields, Once, day, name, number, text, whole, word, yes_no
from scheduler.words import KINDS, Where

GROUPS = Columns(
    file="groups.csv",
    required=("group", "kind", "head"),
    optional=(
        "mob", "heaviest_kg", "lightest_kg", "weighed_on", "born_first", "born_last", "growth_kg_per_day", "grown_kg",
        "wool", "milk", "export", "arrives", "leaves", "note",
    ),
)  # fmt: skip

_WOOL: tuple[Literal["wooled", "shedding"], ...] = ("wooled", "shedding")


def read_groups(rows: Iterable[Fields], groups: dict[str, Where], mobs: dict[str, Where]) -> Iterator[Group]:
    """The groups without a fault; `groups` and `mobs` take in every name met, so that others may refer to it."""
    once = Once()
    for row in rows:
        group = _group(row)
        if row.has("group"):
            groups.setdefault(row.raw("group"), row.at)
            mobs.setdefault(row.raw("mob") or row.raw("group"), row.at)
        if group.name is not None:
            once.note(row, "group", group.name, f'"{group.name}"')
        if not row.failed:
            _check(row, group)
        if not row.failed:
            yield group


def _group(row: Fields) -> Group:
    own = row.need("group", name)
    return Group(
        name=own,
        kind=row.need("kind", word(KINDS)),
        head=row.need("head", whole("head")),
        mob=row.get("mob", name, own),
        heaviest_kg=row.get("heaviest_kg", number("kg"), None),
        lightest_kg=row.get("lightest_kg", number("kg"), None),
        weighed_on=row.get("weighed_on", day, None),
        born_first=row.get("born_first", day, None),
        born_last=row.get("born_last", day, None),
        growth_kg_per_day=row.get("growth_kg_per_day", number("growth_kg_per_day"), Decimal(0)),
        grown_kg=row.get("grown_kg", number("kg"), None),
        wool=row.get("wool", word(_WOOL), "wooled"),
        milk=row.get("milk", yes_no, False),
        export=row.get("export", yes_no, False),
        arrives=row.get("arrives", day, None),
        leaves=row.get("leaves", day, None),
        note=row.get("note", text, ""),
        where=row.at,
    )


def _check(row: Fields, group: Group) -> None:
    ordered(row, "lightest_kg", group.lightest_kg, "heaviest_kg", group.heaviest_kg)
    ordered(row, "born_first", group.born_first, "born_last", group.born_last)
    ordered(row, "born_first", group.born_first, "weighed_on", group.weighed_on)
    ordered(row, "born_first", group.born_first, "arrives", group.arrives)
    ordered(row, "born_first", group.born_first, "leaves", group.leaves)
    ordered(row, "arrives", group.arrives, "leaves", group.leaves)
    if group.kind == "lamb":
        _lamb(row, "born_first", "write the day on which the first was born")
        _lamb(row, "growth_kg_per_day", "write the kilograms they gain a day, for example 0.25")
    has_weight = group.heaviest_kg is not None or group.lightest_kg is not None
    if group.growth_kg_per_day > 0 and has_weight and group.weighed_on is None:
        row.fault(
            "weighed_on",
            "found nothing",
            f"the group grows by {group.growth_kg_per_day} kg a day, so its weights need their day",
            "write the day on which it was weighed",
        )


def _lamb(row: Fields, column: str, mend: str) -> None:
    if not row.has(column):
        row.fault(column, "found nothing", "a group of lambs needs it", mend)
