"""season why: one task of the plan explained."""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import click
from click.shell_completion import CompletionItem
from msgspec.structs import replace

from scheduler.cli.clock import elapsed
from scheduler.cli.shared import farm_argument, json_option, load, out_option, plan_folder, refuse, today_option
from scheduler.cli.terminal import complain, tell, tell_json, width
from scheduler.cli.trade import Money, minor_units, plan_for

if TYPE_CHECKING:
    from scheduler.plan import Task

OTHER_DOSES = (
    "The plan in the folder has other doses than the one explained here: it was made within a budget (give the same "
    "--at-most), on another day (--today), or of a farm folder that has changed since. Plan again to be sure."
)


def dose_names(context: click.Context, parameter: click.Parameter, begun: str) -> list[CompletionItem]:
    """Completion on Tab: GROUP@DATE of the doses still to be given in the plan of the farm."""
    from scheduler.cli.disk import read_bytes
    from scheduler.plan import EarlierPlan, read_earlier

    farm, out = context.params.get("farm"), context.params.get("out")
    found = None if farm is None else read_bytes(plan_folder(farm, out) / "plan.json")
    plan = read_earlier(found) if isinstance(found, bytes) else None
    tasks = plan.tasks if isinstance(plan, EarlierPlan) else ()
    doses = [task for task in tasks if task.kind == "dose" and task.status == "planned"]
    names = dict.fromkeys(f"{task.group}@{task.day.isoformat()}" for task in doses)
    return [CompletionItem(name) for name in names if name.startswith(begun)]


@click.command(
    epilog="""\b
Examples:
  season why my-farm Ewes@2027-06-04           the dose of that group and day
  season why my-farm 3f1c9a52-... --json       a task by its uid
  season why my-farm Ewes@2027-06-04 --today 2027-03-01

Nothing is written. Plan first, and give the same --out, --today and --at-most as then.
Exit code 0: done. 2: no such task, or something in the folder is wrong.
"""
)
@farm_argument
@click.argument("task", shell_complete=dose_names)
@out_option
@click.option("--at-most", type=Money(), help="The plan's most money, as 450.00, where it was made within a budget.")
@today_option
@click.option("--seconds", type=click.FloatRange(min=0), default=20.0, show_default=True, help="Time to plan in.")
@json_option
def why(
    farm: Path, task: str, out: Path | None, at_most: Decimal | None, day: date, seconds: float, as_json: bool
) -> None:
    """Explain the TASK of the plan of FARM: a uid, or GROUP@DATE. Why it is needed, the rules on either side, what
    the next best day costs, what a dose buys, and why not another label.
    """
    from scheduler.outputs import why_json, why_text
    from scheduler.plan import plan_to_explain, tasks_named
    from scheduler.report import cautions_of, report_of
    from scheduler.words import Fault, Faults

    read, earlier = load(farm, plan_folder(farm, out), day, as_json)
    since = elapsed()

    def out_of_time() -> bool:
        return since() >= seconds

    if at_most is None:
        made, explainer = plan_to_explain(read, day, earlier, out_of_time, out_of_time_for_choices=lambda: True)
    else:
        made, explainer = plan_for(at_most, read, day, earlier, out_of_time, as_json)
    if earlier is not None and _doses(earlier.tasks) != _doses(made.tasks):
        complain(OTHER_DOSES)
    named = tasks_named(made.tasks, task)
    if isinstance(named, Fault):
        refuse(Faults((named,)), as_json)
    found, *others = named
    also = [other for other in others if other.kind == found.kind]
    again = elapsed()
    told = explainer.one(found, lambda: again() >= seconds)
    if as_json:
        tell_json(why_json(found, told))
    else:
        most = None if at_most is None else minor_units(at_most, read)
        report = replace(report_of(made, read, cautions_of(made, read)), most_minor=most)
        tell(why_text(report, found, told, also, width()))


def _doses(tasks: "Iterable[Task]") -> set[tuple[object, ...]]:
    """The doses still to be given."""
    return {(task.day, task.cohort, task.label, task.use) for task in tasks
            if task.kind == "dose" and task.status == "planned"}  # fmt: skip
