"""One planning of a farm, from the farm as read to the files: for every command that writes a plan."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from scheduler.cli.clock import elapsed
from scheduler.cli.terminal import complain
from scheduler.cli.trade import minor_units, plan_for

if TYPE_CHECKING:
    from scheduler.farm import Farm
    from scheduler.outputs import CalendarSet
    from scheduler.plan import Changes, Cost, EarlierPlan, FrontierPlans, Gap, TaskKind
    from scheduler.report import SeasonReport

CHOICES_SECONDS = 20
"""What pricing the choices, and what each dose buys, may take beyond the time given to the plan."""


class Wanted(Struct, frozen=True):
    """What the plan shall be like."""

    day: date
    worth: bool
    frontier: bool
    at_most: Decimal | None
    seconds: float
    as_json: bool
    years: bool = False


class WantedCalendars(Struct, frozen=True):
    """Which calendars stand beside calendar.ics, the kinds of task in them (none: all), and last safe days in all."""

    of: "CalendarSet" = "one"
    only: "tuple[TaskKind, ...]" = ()
    last_safe_days: bool = False


def planned(
    read: "Farm", earlier: "EarlierPlan | None", wanted: Wanted, stopped_by_hand: Callable[[], bool]
) -> "tuple[SeasonReport, FrontierPlans | None]":
    """The plan as shown, and the frontier where it was asked for."""
    from scheduler.plan import frontier_plans, moves_of_this_year, plan_to_explain, year_plans
    from scheduler.report import cautions_of, report_of, trade_of

    since, explainer = elapsed(), None

    def out_of_time() -> bool:
        return stopped_by_hand() or since() >= wanted.seconds

    def later() -> bool:
        return stopped_by_hand() or since() >= wanted.seconds + CHOICES_SECONDS

    if wanted.at_most is not None:
        made, _ = plan_for(wanted.at_most, read, wanted.day, earlier, out_of_time, wanted.as_json)
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
    within = elapsed()

    def over() -> bool:
        return stopped_by_hand() or within() >= wanted.seconds

    # A plan within a budget differs from that of usual weather by the budget too.
    moves = () if wanted.at_most is not None else moves_of_this_year(read, wanted.day, made, earlier, over, memory)
    plans = year_plans(read, made, earlier, over, memory) if wanted.years else ()
    trade = None if found is None else trade_of(found, made)
    return replace(report, trade=trade, moves=moves, years=plans), found


def files_of(
    report: "SeasonReport",
    found: "FrontierPlans | None",
    changed: "Changes",
    parts: "WantedCalendars | None" = None,
) -> dict[str, bytes]:
    """What is written, by file name."""
    from scheduler.outputs import (
        calendar_files,
        changes_json,
        frontier_json,
        plan_json,
        summary_html,
        tasks_csv,
        years_json,
    )

    parts = parts or WantedCalendars()
    files = {
        **calendar_files(report, parts.of, parts.only, parts.last_safe_days),
        "summary.html": summary_html(report).encode(),
        "plan.json": plan_json(report).encode(),
        "tasks.csv": tasks_csv(report).encode(),
        "changes.json": changes_json(report, changed).encode(),
    }
    if report.years:
        files["years.json"] = years_json(report).encode()
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
