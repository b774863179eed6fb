"""season plan: the plan of one farm, written as calendar, page, JSON and table."""

import sys
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import click

from scheduler.cli.clock import elapsed
from scheduler.cli.shared import farm_argument, json_option, load, today_option, write
from scheduler.cli.stopping import stopping
from scheduler.cli.terminal import complain, tell, tell_json, width
from scheduler.cli.trade import Money, minor_units, plan_for

if TYPE_CHECKING:
    from scheduler.farm import Farm
    from scheduler.plan import Cost, EarlierPlan, FrontierPlans, Gap
    from scheduler.report import SeasonReport

EXPOSED_OR_STOPPED = 1
CHOICES_SECONDS = 20
"""What pricing the choices, and what each dose buys, may take beyond the time given to the plan."""


@click.command(
    epilog="""\b
Examples:
  season plan my-farm                      writes my-farm/plan
  season plan my-farm --out barn-door      writes the four files elsewhere
  season plan my-farm --today 2027-03-01   plans as on that day
  season plan my-farm --json               for another program
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
    "--calendar-also",
    type=click.Choice(["last-safe-days"]),
    multiple=True,
    help="Events besides the tasks: the last safe day of each label before each sale.",
)
@click.option("--worth", is_flag=True, help="Reckon what each dose buys, by planning again without it: slower.")
@click.option("--frontier", is_flag=True, help="Write frontier.json too: plans that no other plan beats.")
@click.option("--at-most", type=Money(), help="Most money of the plan, as 450.00: the best within it.")
@click.option("--years", is_flag=True, help="Tell how the plan would have fared in each past year of weather.")
@today_option
@click.option("--seconds", type=click.FloatRange(min=0), default=20.0, show_default=True, help="Time to plan in.")
@json_option
def plan(
    farm: Path,
    out: Path | None,
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
    from scheduler.plan import changes, past_years

    folder = out if out is not None else farm / "plan"
    read, earlier = load(farm, folder, day, as_json)
    report, found = _planned(read, earlier, Wanted(day, worth, frontier, at_most, seconds, as_json))
    made = report.plan
    files = _files(report, found, "last-safe-days" in calendar_also)
    write(folder, files)
    paths = [str(folder / name) for name in files]
    if as_json:
        tell_json(files["plan.json" if found is None else "frontier.json"].decode())
    else:
        tell(plan_text(report, changes(earlier, made.tasks), paths, width()))
        tell(trade_text(report, width()))
        if years:
            tell(past_years_text(past_years(read, day, made.tasks), width()))
    stopped = any(conflict.severity == "stop" for conflict in made.conflicts)
    sys.exit(EXPOSED_OR_STOPPED if stopped or made.score.exposed_sheep_days else 0)


@dataclass(frozen=True, slots=True)
class Wanted:
    """What was asked for on the command line."""

    day: date
    worth: bool
    frontier: bool
    at_most: Decimal | None
    seconds: float
    as_json: bool


def _planned(
    read: "Farm", earlier: "EarlierPlan | None", wanted: Wanted
) -> "tuple[SeasonReport, FrontierPlans | None]":
    """The plan as shown, and the frontier where it was asked for."""
    from scheduler.plan import frontier_plans, plan_to_explain
    from scheduler.report import cautions_of, report_of, trade_of

    since, explainer = elapsed(), None
    with stopping() as stopped_by_hand:

        def out_of_time() -> bool:
            return stopped_by_hand() or since() >= wanted.seconds

        def later() -> bool:
            return stopped_by_hand() or since() >= wanted.seconds + CHOICES_SECONDS

        if wanted.at_most is not None:
            made = plan_for(wanted.at_most, read, wanted.day, earlier, out_of_time, wanted.as_json)
        else:
            progress = _progress(since, wanted.seconds)
            made, explainer = plan_to_explain(read, wanted.day, earlier, out_of_time, progress, later)
        memory = None if explainer is None else explainer.memory
        again = elapsed()

        def ended() -> bool:
            return stopped_by_hand() or again() >= wanted.seconds

        found = frontier_plans(read, wanted.day, earlier, ended, memory) if wanted.frontier else None
        if explainer is not None:
            made = replace(made, whys=explainer.page(made.tasks, later, wanted.worth))
    report = report_of(made, read, cautions_of(made, read))
    if wanted.at_most is not None:
        report = replace(report, most_minor=minor_units(wanted.at_most, read))
    return replace(report, trade=None if found is None else trade_of(found, made)), found


def _files(report: "SeasonReport", found: "FrontierPlans | None", last_safe_days: bool) -> dict[str, bytes]:
    from scheduler.outputs import calendar_ics, frontier_json, plan_json, summary_html, tasks_csv

    files = {
        "calendar.ics": calendar_ics(report, last_safe_days),
        "summary.html": summary_html(report).encode(),
        "plan.json": plan_json(report).encode(),
        "tasks.csv": tasks_csv(report).encode(),
    }
    if found is not None:
        files["frontier.json"] = frontier_json(found.plans, found.complete).encode()
    return files


def _progress(since: Callable[[], float], seconds: float) -> "Callable[[Cost, Gap], None]":
    """Tells on stderr, at most once a second, how far the proof is and the time left, once it takes over a second."""
    next_at = [1.0]

    def tell(cost: "Cost", gap: "Gap") -> None:
        if since() >= next_at[0]:
            next_at[0] = since() + 1.0
            proving = "exposure" if gap.money is None else "money"
            left = max(0.0, seconds - since())
            complain(f"planning, {since():.0f} s: a lawful plan stands; proving the least {proving}, {left:.0f} s left")

    return tell
