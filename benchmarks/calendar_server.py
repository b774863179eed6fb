"""Times a push to a calendar server on this machine: of so many new events, of none, and of a tenth changed.

`python -m benchmarks.calendar_server --events 500`. The server is a Radicale with its disk not waited for; most of the
time of new events is its own, and it takes longer for each the more there are.
"""

import argparse
import tempfile
import time
from pathlib import Path

from scheduler.exchange import Connection, Known, Ours, Outcome, Server, Wanted, events_of, push
from tests.exchange.calendars import FIRST, ZONE, many
from tests.exchange.servers import PASSWORD, USERS, free_port, radicale


def wanted(text: str) -> Wanted:
    """What shall stand in the calendar."""
    ours = {uid: Ours(event=event) for uid, event in events_of(text, ZONE).items()}
    return Wanted(ours=ours, all_uids=frozenset(ours), made_for=FIRST, timezone=ZONE)


def timed(name: str, server: Server, address: str, text: str, known: dict[str, Known]) -> dict[str, Known]:
    """Prints a line; what is known after the push."""
    start, outcome = time.perf_counter(), Outcome(known=dict(known))
    push(server, address, wanted(text), outcome)
    seconds = time.perf_counter() - start
    if outcome.cut is not None:
        raise SystemExit(outcome.cut)
    print(f"{name:24} {outcome.sent:6} sent, {outcome.unchanged:6} as before {seconds:9.2f} s", flush=True)
    return outcome.known


def main() -> None:
    """Pushes to a server of its own and prints the times."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--events", type=int, default=500)
    count = options.parse_args().events
    text = many(count)
    changed = text.replace("SUMMARY:Dose lot 1", "SUMMARY:Dose lot one 1")
    port = free_port()
    with tempfile.TemporaryDirectory() as folder, radicale(Path(folder), port):
        server = Server(Connection(f"http://127.0.0.1:{port}/", USERS[0], PASSWORD, sleep=time.sleep, timeout=60))
        place = server.find("season", "Season", may_make=True)
        assert place is not None
        known = timed("all new", server, place.address, text, {})
        known = timed("none", server, place.address, text, known)
        timed("none, nothing noted", server, place.address, text, {})
        timed("some changed", server, place.address, changed, known)


if __name__ == "__main__":
    main()
