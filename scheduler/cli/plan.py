"""season plan: the plan of one farm, written as calendar, page, JSON and table."""

import sys
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import click

from scheduler.cli.alone import alone
from scheduler.cli.calendars import also_option, only_option, stale_files
from scheduler.cli.planning import Wanted, WantedCalendars, files_of, planned
from scheduler.cli.shared import farm_argument, json_option, load, plan_folder, today_option, write
from scheduler.cli.stopping import stopping
from scheduler.cli.terminal import tell, tell_json, width
from scheduler.cli.trade import Money

if TYPE_CHECKING:
    from scheduler.outputs import CalendarSet
    from scheduler.plan import TaskKind

EXPOSED_OR_STOPPED = 1


@click.command(
    epilog="""\b
Examples:
  season plan my-farm                      writes my-farm/plan
  season plan my-farm --out barn-door      writes the files elsewhere
  season plan my-farm --today 2027-03-01   plans as on that day
  season plan my-farm --json               for another program
  season plan my-farm --calendar groups    one for each group besides
  season plan my-farm --only dose,sale     one with these kinds besides
  season plan my-farm --calendar-also last-safe-days
  season plan my-farm --worth              what each dose buys, in the page
  season plan my-farm --frontier           what more money buys
  season plan my-farm --at-most 450.00     the best that a budget affords

Exit code 0: done. 1: done, with a rule broken by what was wished or done, or with days left exposed.
Ctrl-C ends planning early: the best plan so far is written, and says that it is not proved the least.
2: something in the folder is wrong; nothing was written. 3: the files could not be written.
"""
)
@farm_argument
@click.option("--out", type=click.Path(path_type=Path), help="Folder for the files; otherwise FARM/plan.")
@click.option(
    "--calendar",
    "calendars",
    type=click.Choice(["one", "groups", "kinds"]),
    default="one",
    show_default=True,
    help="Write calendar-NAME.ics too, for each group or each kind of task; calendar.ics is always whole.",
)
@only_option("Kinds of task in these further calendars, as dose,sale; with --calendar one in calendar-only.ics.")
@also_option
@click.option("--worth", is_flag=True, help="Reckon what each dose buys, by planning again without it: slower.")
@click.option("--frontier", is_flag=True, help="Write frontier.json too: plans that no other plan beats.")
@click.option("--at-most", type=Money(), help="Most money of the plan, as 450.00: the best within it.")
@click.option("--years", is_flag=True, help="Write years.json too: this plan, and those of single years, in each year.")
@today_option
@click.option("--seconds", type=click.FloatRange(min=0), default=20.0, show_default=True, help="Time to plan in.")
@json_option
def plan(
    farm: Path,
    out: Path | None,
    calendars: "CalendarSet",
    only: "tuple[TaskKind, ...]",
    calendar_also: tuple[str, ...],
    worth: bool,
    frontier: bool,
    at_most: Decimal | None,
    years: bool,
    day: date,
    seconds: float,
    as_json: bool,
) -> None:
    """Plan the season of the farm in folder FARM: which dose, which sheep, which day, and why."""
    from scheduler.outputs import past_years_text, plan_text, trade_text
    from scheduler.plan import changes

    folder = plan_folder(farm, out)
    with alone(folder):
        read, earlier = load(farm, folder, day, as_json)
        wanted = Wanted(day, worth, frontier, at_most, seconds, as_json, years)
        with stopping() as stopped_by_hand:
            report, found = planned(read, earlier, wanted, stopped_by_hand)
        made = report.plan
        changed = changes(earlier, made.tasks, made.made_for)
        parts = WantedCalendars(calendars, only, "last-safe-days" in calendar_also)
        files = files_of(report, found, changed, parts)
        stale = stale_files(folder, files)
        write(folder, {**files, **dict.fromkeys(stale)})
    if as_json:
        tell_json(files["plan.json" if found is None else "frontier.json"].decode())
    else:
        paths, removed = ([str(folder / name) for name in names] for names in (files, stale))
        tell(plan_text(report, changed, paths, width(), removed))
        tell(trade_text(report, width()))
        if years:
            tell(past_years_text(report, width()))
    stopped = any(conflict.severity == "stop" for conflict in made.conflicts)
    sys.exit(EXPOSED_OR_STOPPED if stopped or made.score.exposed_sheep_days else 0)
