"""events.csv."""

from collections.abc import Iterable, Iterator

from scheduler.farm.model import Event
from scheduler.farm.names import Names, ordered
from scheduler.tables import Columns, Fields, day, text, word
from scheduler.words import EVENT_KINDS

EVENTS = Columns(file="events.csv", required=("date", "what", "groups"), optional=("end", "note"))


def read_events(rows: Iterable[Fields], names: Names) -> Iterator[Event]:
    """The events without a fault."""
    for row in rows:
        first = row.need("date", day)
        event = Event(
            what=row.need("what", word(EVENT_KINDS)),
            first=first,
            last=row.get("end", day, first),
            groups=names.some_groups(row),
            note=row.get("note", text, ""),
            where=row.at,
        )
        ordered(row, "date", event.first, "end", event.last)
        if not row.failed:
            yield event
