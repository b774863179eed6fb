"""pushed.json: what stands on each server as far as we know. Only push and pull read it; a plan never does."""

import json
from collections.abc import Mapping
from datetime import date
from typing import Any

from msgspec import Struct, field

from scheduler.exchange.event import Sent, sent_of
from scheduler.words import Fault, Where

SCHEMA = "season-pushed/1"
STATE_FILE = "pushed.json"


class Known(Struct, frozen=True):
    """An event that we have sent: its path on the server, what was sent, and the tag under which it stood so.

    tag None: it has to be looked at again, because the server gave none or the event stands otherwise than the plan's.
    """

    path: str
    sent: Sent
    tag: str | None = None


class State(Struct, frozen=True):
    """By the address of a calendar its events by uid; and by uid the day that pull last wrote as a wish."""

    calendars: Mapping[str, Mapping[str, Known]] = field(default_factory=dict)
    wished: Mapping[str, date] = field(default_factory=dict)

    def known(self, calendar: str | None) -> Mapping[str, Known]:
        """The events known in one calendar; with None those of all, of two the later named."""
        if calendar is not None:
            return self.calendars.get(calendar, {})
        return {uid: known for events in self.calendars.values() for uid, known in events.items()}


def read_state(data: bytes | None) -> State | Fault:
    """What the file says; nothing where there is none; the fault of one that is not ours."""
    if data is None:
        return State()
    try:
        return _state(json.loads(data))
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        mend = "move it away and push again: every event is then looked at anew, and one deleted there is put back"
        return Fault(Where(STATE_FILE), "found a file that cannot be read", f"expected one of schema {SCHEMA}", mend)


def state_json(state: State) -> str:
    """The file's content: the same for the same state."""
    value = {
        "schema": SCHEMA,
        "calendars": {
            address: {
                uid: {"path": known.path, "sent": str(known.sent), "tag": known.tag}
                for uid, known in sorted(events.items())
            }
            for address, events in sorted(state.calendars.items())
        },
        "wished": {uid: day.isoformat() for uid, day in sorted(state.wished.items())},
    }
    return json.dumps(value, indent=1, ensure_ascii=False) + "\n"


def _state(value: Any) -> State:
    if value["schema"] != SCHEMA:
        raise ValueError(value["schema"])
    calendars = {
        str(address): {str(uid): _known(row) for uid, row in events.items()}
        for address, events in value["calendars"].items()
    }
    return State(calendars, {str(uid): date.fromisoformat(day) for uid, day in value["wished"].items()})


def _known(row: Any) -> Known:
    sent = sent_of(str(row["sent"]))
    if sent is None or not isinstance(row["path"], str) or not isinstance(row["tag"], str | None):
        raise ValueError(row)
    return Known(row["path"], sent, row["tag"])
