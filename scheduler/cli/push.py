"""season push: the calendar of the last plan, brought to a calendar server."""

import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from scheduler.cli.alone import alone
from scheduler.cli.calendar_server import connected, server_options
from scheduler.cli.calendars import only_option
from scheduler.cli.last_plan import LastPlan, last_plan
from scheduler.cli.shared import OUT_OF_REACH, farm_argument, json_option, out_option, plan_folder, refuse, today_option
from scheduler.cli.terminal import complain, tell, tell_json, width

if TYPE_CHECKING:
    from scheduler.exchange import Outcome, Place, Server, Wanted
    from scheduler.plan import TaskKind


@click.command(
    epilog="""\b
Examples:
  season push my-farm --to https://calendar.example/me/ --user me
  season push my-farm --to https://me@calendar.example/me/sheep/ --dry-run
  season push my-farm --to http://localhost:5232/me/ --only dose,sale
  season push my-farm --to https://... --ours Ewes@2027-06-04

Plan first: what is sent is the calendar of the last plan. The address of a
calendar is used as it is; in a home of calendars one is made for the farm.
What was moved, changed or deleted there stands until you decide; what is
not of this farm is never touched. Nothing is deleted, only called off.
The password is asked for, or read from SEASON_PASSWORD or the keyring.

Exit code 0: done. 2: something is wrong here; nothing was sent. 3: the
server is out of reach or refuses; push again, and the rest is sent.
"""
)
@farm_argument
@click.option("--to", required=True, metavar="URL", help="Address of a calendar, or of a home of calendars (CalDAV).")
@out_option
@only_option("Kinds of task to send, as dose,sale; others stay there as they are.")
@click.option("--ours", multiple=True, metavar="TASK",
              help="Send the plan's event whatever stands there: uid, GROUP@DATE, or all.")  # fmt: skip
@click.option("--dry-run", is_flag=True, help="Tell what would be sent, and send nothing.")
@server_options
@today_option
@json_option
def push(
    farm: Path, to: str, out: Path | None, only: "tuple[TaskKind, ...]", ours: tuple[str, ...], dry_run: bool,
    user: str | None, remember: bool, ca: Path | None, plain_http: bool, timeout: int, day: date, as_json: bool,
) -> None:  # fmt: skip
    """Send the calendar of the last plan of FARM to a calendar server; a second push sends only what changed."""
    from scheduler.exchange import OutOfReach, refused_wishes, wanted_of

    folder = plan_folder(farm, out)
    with alone(folder):
        last = last_plan(farm, folder, day, as_json)
        refused = refused_wishes(last.plan_json, last.farm.wishes)
        win = _uids(last, ours, as_json)
        wanted = wanted_of(last.events, last.plan, refused, last.farm.settings.timezone, only, win)
        try:
            with connected(to, user, remember and not dry_run, ca, plain_http, timeout) as (server, _):
                place, outcome = _pushed(server, last, wanted, dry_run)
        except OutOfReach as trouble:
            complain(f"{trouble} Nothing was sent.")
            sys.exit(OUT_OF_REACH)
    _tell(last, place, outcome, dry_run, as_json)


def _uids(last: LastPlan, named: tuple[str, ...], as_json: bool) -> frozenset[str]:
    """The uids of the events that --ours names."""
    from scheduler.plan import tasks_named
    from scheduler.words import Fault, Faults

    known = {"all", *last.events}
    found = {name: [name] if name in known else tasks_named(last.plan.tasks, name) for name in named}
    faults = [one for one in found.values() if isinstance(one, Fault)]
    if faults:
        refuse(Faults.of(faults), as_json)
    uids = (one if isinstance(one, str) else one.uid for some in found.values() if not isinstance(some, Fault)
            for one in some)  # fmt: skip
    return frozenset(uids)


def _pushed(server: "Server", last: LastPlan, wanted: "Wanted", dry: bool) -> "tuple[Place | None, Outcome]":
    """Sends, and notes what is known of the calendar afterwards, however it ended."""
    from scheduler.exchange import Outcome, push

    place = server.find(last.calendar_segment, last.calendar_name, may_make=not dry)
    if place is None:
        return None, Outcome(new=[one.event for one in wanted.ours.values() if not one.event.is_cancelled])
    outcome = Outcome(known={} if place.is_new else dict(last.state.known(place.address)))
    try:
        push(server, place.address, wanted, outcome, dry=dry)
    finally:
        if not dry:
            last.note(place.address, outcome.known)
    return place, outcome


def _tell(last: LastPlan, place: "Place | None", outcome: "Outcome", dry: bool, as_json: bool) -> None:
    from scheduler.exchange import push_lines, push_value
    from scheduler.outputs import json_text, lines_text

    if as_json:
        tell_json(json_text(push_value(place, outcome, dry)))
    else:
        tell(lines_text(push_lines(place, last.calendar_name, outcome, last.tasks, dry), width()))
    if outcome.cut is not None:
        left = f" {outcome.open} of {len(last.events)} events were not looked at;" if outcome.open else ""
        complain(f"{outcome.cut}{left} push again: what was sent is noted, and the rest is sent then.")
        sys.exit(OUT_OF_REACH)
