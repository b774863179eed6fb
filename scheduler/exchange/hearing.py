"""What stands in a calendar, for pull: read from a server, or from a file that a program saved."""

from collections.abc import Collection, Mapping

from scheduler.exchange.answers import Heard
from scheduler.exchange.event import Event, events_of
from scheduler.exchange.server import Server
from scheduler.exchange.state import Known
from scheduler.words import Fault, Where


def heard_server(server: Server, address: str, uids: Collection[str], known: Mapping[str, Known], zone: str) -> Heard:
    """What stands in the calendar at the address; what stands there as it was sent is not fetched."""
    tags = server.tags(address)
    as_sent = {uid: one.path for uid, one in known.items() if one.tag is not None and tags.get(one.path) == one.tag}
    passed, found = set(as_sent.values()), dict[str, Event]()
    for _, _, content in server.fetch(address, [path for path in tags if path not in passed]):
        try:
            found.update(events_of(content, zone))
        except ValueError:
            continue  # it cannot be read, so it is not ours
    ours = {uid: event for uid, event in found.items() if uid in uids}
    return Heard(events=ours, present={*ours, *as_sent}, known=known, is_whole=True)


def heard_file(name: str, content: str, uids: Collection[str], known: Mapping[str, Known], zone: str) -> Heard | Fault:
    """What stands in a file; what does not may lie outside its span."""
    try:
        found = events_of(content, zone)
    except ValueError:
        expected, mend = "expected a calendar as iCalendar (RFC 5545)", "save the calendar again, as .ics"
        return Fault(Where(name), "found a file that is no calendar", expected, mend)
    ours = {uid: event for uid, event in found.items() if uid in uids}
    return Heard(events=ours, present=set(ours), known=known, is_whole=False)
