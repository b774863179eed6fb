"""season serve: the calendar of a farm to subscribe to, kept as the farm folder says."""

import signal
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, datetime
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING

import click

from scheduler.cli.calendars import also_option, only_option
from scheduler.cli.clock import today
from scheduler.cli.planning import WantedCalendars
from scheduler.cli.shared import OUT_OF_REACH, farm_argument, out_option, plan_folder, refuse
from scheduler.cli.terminal import complain, say, tell

if TYPE_CHECKING:
    from scheduler.plan import TaskKind

PORT = 8421
LOOK_SECONDS = 5.0
"""Between two looks at the farm folder. It is read whole each time: the date of a file says too little."""


@click.command(
    epilog="""\b
Examples:
  season serve my-farm --feed                  for this machine alone
  season serve my-farm --feed --lan            for phones in the same network
  season serve my-farm --feed --only dose,sale
  season serve my-farm --feed --new-address    the address of before ends

The plan in FARM/plan is made again, as by `season plan`, when a file of the farm or the day changes.
A fault in the folder keeps the last good calendar, and its first event says so. Ctrl-C ends it.
Exit code 0: ended. 2: something in the folder is wrong, and there is no calendar yet.
3: the port is taken, or the disk refuses.
"""
)
@farm_argument
@click.option("--feed", is_flag=True, required=True, help="Serve the calendar, to subscribe to and to read only.")
@out_option
@only_option("Kinds of task to serve, as dose,sale; otherwise all.")
@also_option
@click.option("--lan", is_flag=True, help="Let other machines in the network read it too.")
@click.option("--port", type=click.IntRange(0, 65535), default=PORT, show_default=True, help="0: any that is free.")
@click.option("--new-address", is_flag=True, help="Make another address; the one of before ends.")
@click.option("--today", "day", type=click.DateTime(["%Y-%m-%d"]), metavar="DATE",
              help="The day to take for today, always; otherwise each day in its turn.")  # fmt: skip
@click.option("--seconds", type=click.FloatRange(min=0), default=20.0, show_default=True, help="Time for a planning.")
def serve(
    farm: Path, feed: bool, out: Path | None, only: "tuple[TaskKind, ...]", calendar_also: tuple[str, ...], lan: bool,
    port: int, new_address: bool, day: datetime | None, seconds: float,
) -> None:  # fmt: skip
    """Serve the calendar of the farm in folder FARM for phones and programs that subscribe to it."""
    from scheduler.cli.door import opened, serving
    from scheduler.cli.feed_address import secret_of
    from scheduler.cli.renewal import Renewal
    from scheduler.serve import feed_app, path_of

    parts = WantedCalendars(only=only, last_safe_days="last-safe-days" in calendar_also)
    folder = plan_folder(farm, out)
    which_day = today if day is None else day.date
    with _ended_by_hand(), opened("0.0.0.0" if lan else "127.0.0.1", port) as door:
        _refuse_faults(farm, folder, which_day)
        try:
            secret = secret_of(folder, new_address)
        except OSError as error:
            complain(f"The address cannot be kept in {folder}: {(error.strerror or 'the disk refuses').lower()}.")
            sys.exit(OUT_OF_REACH)
        renewal = Renewal(farm, folder, which_day, seconds, secret, parts)
        if not renewal.begin():
            sys.exit(OUT_OF_REACH)
        with serving(feed_app(secret, renewal.current), door):
            _tell_addresses(path_of(secret), lan, door.getsockname()[1])
            while True:
                renewal.look()
                time.sleep(LOOK_SECONDS)


def _refuse_faults(farm: Path, folder: Path, day: Callable[[], date]) -> None:
    """Ends with exit code 2 on a fault where there is no calendar yet, or where the plan there is not this farm's."""
    from scheduler.cli.disk import read_folder
    from scheduler.cli.renewal import calendar_in
    from scheduler.cli.shared import read_all
    from scheduler.words import Faults

    found = read_all(read_folder(farm), folder, day())
    if isinstance(found, Faults):
        of_plan = any(fault.where.file.endswith("plan.json") for fault in found.items)
        if of_plan or calendar_in(folder) is None:
            refuse(found, False)


@contextmanager
def _ended_by_hand() -> Iterator[None]:
    """Ctrl-C, or the system's word to end, ends it without more ado: what is written is written whole."""

    def end(number: int, frame: FrameType | None) -> None:
        raise KeyboardInterrupt

    before = signal.signal(signal.SIGTERM, end)
    try:
        yield
    except KeyboardInterrupt:
        say("Ended. The address stays the same the next time.")
    finally:
        signal.signal(signal.SIGTERM, before)


def _tell_addresses(path: str, lan: bool, port: int) -> None:
    from scheduler.cli.feed_address import addresses_in_network

    hosts = addresses_in_network() if lan else ["127.0.0.1"]
    say("Subscribe to:")
    for host in hosts or ["ADDRESS-OF-THIS-MACHINE"]:
        tell(f"  http://{host}:{port}{path}\n")
    if not lan:
        say("Only programs on this machine reach it; --lan lets phones in your network read it.")
    elif not hosts:
        say("No address of this machine in a network was found: its network settings show it.")
    if lan:
        say("It travels unencrypted: use it in a network that you trust.")
    say(
        "Whoever has the address can read the whole calendar, without a password, and change nothing. "
        "--new-address makes another, and the old one ends. Ctrl-C ends it."
    )
