"""season check: the faults of a folder, then the audit of wishes and record."""

import sys
from datetime import date
from pathlib import Path

import click

from scheduler.cli.shared import farm_argument, json_option, load, today_option
from scheduler.cli.terminal import tell, tell_json, width


@click.command(
    epilog="""\b
Examples:
  season check my-farm
  season check my-farm --today 2027-06-01 --json

Exit code 0: nothing forbidden. 1: a wish or a dose given breaks a stop rule. 2: something in the folder is wrong.
"""
)
@farm_argument
@today_option
@json_option
def check(farm: Path, day: date, as_json: bool) -> None:
    """Look the folder FARM over: every fault, then wishes and record by every rule."""
    from scheduler.outputs import Paragraph, conflict_value, conflicts_text, json_text, lines_text
    from scheduler.plan import audit_farm

    read, earlier = load(farm, farm / "plan", day, as_json)
    conflicts = audit_farm(read, day, earlier)
    if as_json:
        value = {"faults": [], "conflicts": [conflict_value(conflict) for conflict in conflicts]}
        tell_json(json_text(value))
    else:
        tell(lines_text([Paragraph(line) for line in read.left_out], width()))
        tell(conflicts_text(conflicts, width=width()))
        if not conflicts:
            tell("The folder reads well, and neither wishes nor record break a rule.\n")
    sys.exit(1 if any(conflict.severity == "stop" for conflict in conflicts) else 0)
