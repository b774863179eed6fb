"""season pull: what was moved, done or deleted in a calendar, taken back into the farm's tables."""

import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from scheduler.cli.alone import alone
from scheduler.cli.calendar_server import connected, is_address, server_options
from scheduler.cli.last_plan import LastPlan, last_plan
from scheduler.cli.shared import OUT_OF_REACH, farm_argument, json_option, out_option, plan_folder, refuse, today_option
from scheduler.cli.taking import Taking
from scheduler.cli.terminal import complain

if TYPE_CHECKING:
    from scheduler.exchange import Heard, Server

STOPPED = 1


@click.command(
    epilog="""\b
Examples:
  season pull my-farm --from https://calendar.example/me/ --user me
  season pull my-farm --from saved.ics
  season pull my-farm --from saved.ics --dry-run
  season pull my-farm --from saved.ics --yes    records without asking

A dose that was moved becomes a row of wishes.csv, and is judged as by
`season check`; plan and push again, and the calendar says what came of it.
A dose marked done becomes a row of record.csv, once you say yes. Marks are a
title that begins with a tick, [x] or done, a category done or completed, and
the status completed. What was deleted is only asked about. Everything else
in the calendar is left alone, and a second pull writes nothing twice.

Exit code 0: done. 1: done, and a wish breaks a rule. 2: something is wrong
here; nothing was written. 3: the server or the disk is out of reach.
"""
)
@farm_argument
@click.option("--from", "source", required=True, metavar="URL|FILE.ics", help="The calendar, or a file saved from it.")
@out_option
@click.option("--yes", "sure", is_flag=True, help="Record every dose marked done without asking.")
@click.option("--dry-run", is_flag=True, help="Tell what would be written, and write nothing.")
@server_options
@today_option
@json_option
def pull(
    farm: Path, source: str, out: Path | None, sure: bool, dry_run: bool, user: str | None, remember: bool,
    ca: Path | None, plain_http: bool, timeout: int, day: date, as_json: bool,
) -> None:  # fmt: skip
    """Take back into FARM what was moved, marked done or deleted in the calendar of its last plan."""
    from scheduler.exchange import OutOfReach

    folder = plan_folder(farm, out)
    with alone(folder):
        last = last_plan(farm, folder, day, as_json)
        try:
            if is_address(source):
                with connected(source, user, remember, ca, plain_http, timeout) as (server, source):
                    heard = _of_server(server, last)
            else:
                heard = _of_file(Path(source), last, as_json)
        except OutOfReach as trouble:
            complain(f"{trouble} Nothing was written.")
            sys.exit(OUT_OF_REACH)
        conflicts = Taking(farm, last, day, sure, dry_run, as_json).take(source, heard)
    sys.exit(STOPPED if any(conflict.severity == "stop" for conflict in conflicts) else 0)


def _of_server(server: "Server", last: LastPlan) -> "Heard":
    from scheduler.exchange import OutOfReach, heard_server

    place = server.find(last.calendar_segment, last.calendar_name, may_make=False)
    if place is None:
        raise OutOfReach(f'There is no calendar "{last.calendar_name}" yet: push first.')
    known = last.state.known(place.address)
    return heard_server(server, place.address, last.tasks.keys(), known, last.farm.settings.timezone)


def _of_file(path: Path, last: LastPlan, as_json: bool) -> "Heard":
    from scheduler.cli.disk import read_bytes
    from scheduler.exchange import heard_file
    from scheduler.tables import decoded
    from scheduler.words import Fault, Faults, Where

    found = read_bytes(path)
    if found is None:
        found = Fault(Where(str(path)), "found no such file", "expected a calendar, or an address", "check its name")
    text = found if isinstance(found, Fault) else decoded(str(path), found)
    known, zone = last.state.known(None), last.farm.settings.timezone
    heard = text if isinstance(text, Fault) else heard_file(str(path), text, last.tasks.keys(), known, zone)
    if isinstance(heard, Fault):
        refuse(Faults((heard,)), as_json)
    return heard
