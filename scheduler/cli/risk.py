"""season risk: the level of each target over the season, how sure it is, and weather brought in from other files."""

from datetime import date
from pathlib import Path

import click

from scheduler.cli.shared import farm_argument, json_option, load, today_option
from scheduler.cli.terminal import tell, tell_json, width


@click.command(
    epilog="""\b
Examples:
  season risk my-farm
  season risk my-farm --today 2027-05-01 --json

Levels come from risk.csv for a target that has rows there, else from weather.csv, else from normals.csv, else from a
built-in table. They are levels out of doors: housing, days away and findings are looked at in the plan.
"""
)
@farm_argument
@today_option
@json_option
def risk(farm: Path, day: date, as_json: bool) -> None:
    """Show the risk of each target on the farm in folder FARM: when it begins and ends, and how far years differ."""
    from scheduler.outputs import risk_json, risk_text
    from scheduler.report import risk_report
    from scheduler.season import Season

    read, _ = load(farm, farm / "plan", day, as_json)
    report = risk_report(Season(read, day))
    if as_json:
        tell_json(risk_json(report))
    else:
        tell(risk_text(report, width()))
