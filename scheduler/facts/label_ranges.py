"""What leaflets were seen to state, by active and form: the facts of label_ranges.toml."""

import tomllib
from functools import cache

from msgspec import Struct

from scheduler.facts.model import Seen
from scheduler.words import package_text


class LabelRange(Struct, frozen=True):
    """What leaflets of an active and form were seen to state for a figure ("meat", "milk", "protects").

    least, most: days; None where they only say that it is not permitted.
    """

    active: str
    form: str
    figure: str
    least: int | None
    most: int | None
    not_permitted: bool
    source: str
    seen: Seen


@cache
def label_ranges() -> tuple[LabelRange, ...]:
    """Every range that was seen, in the order of the file."""
    rows = tomllib.loads(package_text("scheduler.facts", "label_ranges.toml"))["range"]
    return tuple(
        LabelRange(
            active=row["active"],
            form=row["form"],
            figure=row["figure"],
            least=row.get("least"),
            most=row.get("most"),
            not_permitted=row.get("not_permitted", False),
            source=row["source"],
            seen=row["seen"],
        )
        for row in rows
    )
