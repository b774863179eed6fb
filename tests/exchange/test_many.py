"""Two thousand events in one calendar."""

import re
import time

from scheduler.exchange import Connection, Ours, Outcome, Server, Wanted, events_of, push
from tests.exchange.calendars import FIRST, ZONE, Phone, event_text, many
from tests.exchange.servers import PASSWORD

COUNT = 2_000


def wanted(text: str) -> Wanted:
    """What shall stand in the calendar."""
    events = events_of(text, ZONE)
    ours = {uid: Ours(event=event) for uid, event in events.items()}
    return Wanted(ours=ours, all_uids=frozenset(ours), made_for=FIRST, timezone=ZONE)


def test_of_two_thousand_events_only_those_that_changed_are_sent(home: str, user: str) -> None:
    phone, text = Phone(f"{home}farm/", user), many(COUNT)
    phone.ask("PUT", "", text, Content_Type="text/calendar")  # the whole calendar, as imported by hand
    server = Server(Connection(phone.address, user, PASSWORD, sleep=time.sleep, timeout=60))
    outcome = Outcome()
    push(server, phone.address, wanted(text), outcome)
    assert (outcome.cut, outcome.sent, outcome.unchanged, outcome.left) == (None, 0, COUNT, [])
    old, new = event_text("dose-7", FIRST.replace(day=8), "Dose lot 7"), event_text("dose-7", FIRST, "Dose lot seven")
    assert old in text
    changed = text.replace(old, new + event_text("dose-new", FIRST))
    again = Outcome(known=outcome.known)
    push(server, phone.address, wanted(changed), again)
    assert ([one.uid for one in again.changed], [one.uid for one in again.new]) == (["dose-7"], ["dose-new"])
    assert (again.cut, again.unchanged) == (None, COUNT - 1)
    there = re.findall(r"^UID:(.*)$", phone.all(), re.MULTILINE)
    assert (len(there), len(set(there))) == (COUNT + 1, COUNT + 1)
