"""weights.csv."""

from collections.abc import Iterable, Iterator

from scheduler.farm.model import Weighing
from scheduler.farm.names import Names, before_birth, ordered
from scheduler.tables import Columns, Fields, Once, day, number, whole

WEIGHTS = Columns(
    file="weights.csv", required=("date", "group", "heaviest_kg"), optional=("head", "mean_kg", "lightest_kg")
)


def read_weights(rows: Iterable[Fields], names: Names) -> Iterator[Weighing]:
    """The weighings without a fault; a group is weighed once a day."""
    once = Once()
    for row in rows:
        weighing = Weighing(
            day=row.need("date", day),
            group=names.group(row),
            head=row.get("head", whole("head"), None),
            heaviest_kg=row.need("heaviest_kg", number("kg")),
            mean_kg=row.get("mean_kg", number("kg"), None),
            lightest_kg=row.get("lightest_kg", number("kg"), None),
            where=row.at,
        )
        ordered(row, "lightest_kg", weighing.lightest_kg, "heaviest_kg", weighing.heaviest_kg)
        ordered(row, "lightest_kg", weighing.lightest_kg, "mean_kg", weighing.mean_kg)
        ordered(row, "mean_kg", weighing.mean_kg, "heaviest_kg", weighing.heaviest_kg)
        before_birth(row, "date", weighing.day, names.group_of.get(weighing.group))
        if weighing.day is not None and weighing.group is not None:
            once.note(row, "date", (weighing.day, weighing.group), f'{weighing.day} of "{weighing.group}"')
        if not row.failed:
            yield weighing
