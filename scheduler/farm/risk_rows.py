"""risk.csv."""

from collections.abc import Iterable, Iterator

from scheduler.farm.model import RiskRow
from scheduler.farm.names import Names, ordered
from scheduler.tables import Columns, Fields, day, number, word
from scheduler.words import TARGETS

RISK = Columns(file="risk.csv", required=("target", "from", "to", "level"), optional=("groups",))


def read_risk(rows: Iterable[Fields], names: Names) -> Iterator[RiskRow]:
    """The levels of risk without a fault."""
    for row in rows:
        everyone = not row.has("groups") or row.raw("groups") == "all"
        level = RiskRow(
            target=row.need("target", word(TARGETS)),
            first=row.need("from", day),
            last=row.need("to", day),
            level=row.need("level", number("level")),
            groups=None if everyone else names.some_groups(row),
            where=row.at,
        )
        ordered(row, "from", level.first, "to", level.last)
        if not row.failed:
            yield level
