"""directions.csv."""

from collections.abc import Iterable, Iterator

from scheduler.farm.model import Direction
from scheduler.farm.names import Names, ordered
from scheduler.tables import Columns, Fields, day, line, listed, whole

DIRECTIONS = Columns(
    file="directions.csv",
    required=("label", "use", "groups", "sets_aside", "signed", "until", "vet"),
    optional=("meat_days", "milk_days"),
)

_MAY_BE_SET_ASIDE = (
    "use-on-label", "youngest-age", "dose-band", "repeat-interval", "season-maximum", "fleece-weeks",
)  # fmt: skip


def read_directions(rows: Iterable[Fields], names: Names) -> Iterator[Direction]:
    """The vets' directions without a fault."""
    for row in rows:
        label, use = names.label_and_use(row)
        direction = Direction(
            label=label,
            use=use,
            groups=names.some_groups(row),
            sets_aside=_sets_aside(row),
            signed=row.need("signed", day),
            until=row.need("until", day),
            vet=row.need("vet", line),
            meat_days=row.get("meat_days", whole("days"), None),
            milk_days=row.get("milk_days", whole("days"), None),
            where=row.at,
        )
        ordered(row, "signed", direction.signed, "until", direction.until)
        if not row.failed:
            yield direction


def _sets_aside(row: Fields) -> tuple[str, ...]:
    slugs = row.need("sets_aside", listed) or ()
    for slug in slugs:
        if slug not in _MAY_BE_SET_ASIDE:
            allowed = ", ".join(_MAY_BE_SET_ASIDE)
            expected = f"a vet's direction may set aside: {allowed}"
            row.fault("sets_aside", f'found "{slug}"', expected, "delete it, or write one of these")
    return slugs
