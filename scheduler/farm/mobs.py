"""mobs.csv."""

from collections.abc import Iterable, Iterator
from typing import Literal

from scheduler.farm.model import Mob
from scheduler.farm.names import Names
from scheduler.tables import Columns, Fields, Once, name, number, reference, text, whole, word

MOBS = Columns(file="mobs.csv", required=("mob",), optional=("gather_minutes", "people", "gather_on", "note"))

_GATHER_ON: tuple[Literal["any", "events"], ...] = ("any", "events")


def read_mobs(rows: Iterable[Fields], names: Names) -> Iterator[Mob]:
    """The mobs without a fault; each must be the mob of some group."""
    once = Once()
    for row in rows:
        mob = Mob(
            name=row.need("mob", reference(names.mobs, name)),
            gather_minutes=row.get("gather_minutes", number("gather_minutes"), None),
            people=row.get("people", whole("people"), 1),
            gather_on=row.get("gather_on", word(_GATHER_ON), "any"),
            note=row.get("note", text, ""),
            where=row.at,
        )
        if mob.name is not None:
            once.note(row, "mob", mob.name, f'"{mob.name}"')
        if not row.failed:
            yield mob
