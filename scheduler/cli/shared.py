"""What several commands share: their options, and how faults are told."""

import json
import sys
from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click
from click.shell_completion import CompletionItem

from scheduler.cli.clock import today
from scheduler.cli.terminal import complain, tell_json

if TYPE_CHECKING:
    from scheduler.farm import Farm
    from scheduler.plan import EarlierPlan
    from scheduler.words import Fault, Faults

WRONG_INPUT = 2
OUT_OF_REACH = 3


def _day(context: click.Context, parameter: click.Parameter, given: datetime | None) -> date:
    """The day given with --today, else the day of the machine."""
    return today() if given is None else given.date()


def folders(context: click.Context, parameter: click.Parameter, begun: str) -> list[CompletionItem]:
    """Completion on Tab: the shell's own list of folders."""
    return [CompletionItem(begun, type="dir")]


def label_names(context: click.Context, parameter: click.Parameter, begun: str) -> list[CompletionItem]:
    """Completion on Tab: the names of the labels of the farm given, else the shell's own list of files."""
    farm = context.params.get("farm")
    if farm is None:
        return [CompletionItem(begun, type="file")]
    return [CompletionItem(path.stem) for path in sorted((farm / "labels").glob(f"{begun}*.toml"))]


farm_argument = click.argument("farm", type=click.Path(path_type=Path), shell_complete=folders)
today_option = click.option(
    "--today",
    "day",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    callback=_day,
    help="The day to take for today, as 2027-03-01.",
)
out_option = click.option("--out", type=click.Path(path_type=Path), help="Folder of the plan; otherwise FARM/plan.")
json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON for other programs, and nothing else.")


def plan_folder(farm: Path, out: Path | None) -> Path:
    """The folder of the farm's plan: as --out names it, else in the farm's own."""
    return farm / "plan" if out is None else out


def refuse(faults: "Faults", as_json: bool) -> NoReturn:
    """Tells all faults, as text on stderr and with --json on stdout too, and ends with exit code 2."""
    for fault in faults.items:
        complain(str(fault))
    if as_json:
        value = {"faults": [fault.as_json() for fault in faults.items]}
        tell_json(json.dumps(value, indent=1, ensure_ascii=False) + "\n")
    sys.exit(WRONG_INPUT)


def write(folder: Path, files: Mapping[str, bytes | None]) -> None:
    """Writes all of the files (None: removes it) or none; out of reach: says so and ends with exit code 3."""
    from scheduler.cli.disk import write_whole

    trouble = write_whole(folder, files)
    if trouble is not None:
        complain(trouble)
        sys.exit(OUT_OF_REACH)


def load(folder: Path, plan_folder: Path, day: date, as_json: bool) -> "tuple[Farm, EarlierPlan | None]":
    """The farm of a folder and the earlier plan; tells every fault and ends where there is one."""
    from scheduler.cli.disk import read_folder
    from scheduler.words import Faults

    found = read_all(read_folder(folder), plan_folder, day)
    if isinstance(found, Faults):
        refuse(found, as_json)
    return found


def read_all(
    texts: "Mapping[str, bytes | Fault]", plan_folder: Path, day: date
) -> "tuple[Farm, EarlierPlan | None] | Faults":
    """The farm of the files of its folder, and the earlier plan in another; or every fault."""
    from scheduler.cli.disk import read_bytes
    from scheduler.farm import read_farm
    from scheduler.plan import of_another_farm, planned_firsts, read_earlier
    from scheduler.words import Fault, Faults

    found = read_bytes(plan_folder / "plan.json")
    earlier = read_earlier(found) if isinstance(found, bytes) else found
    if isinstance(earlier, Fault):
        return Faults((earlier,))
    firsts = frozenset() if earlier is None else planned_firsts(earlier)
    farm = read_farm(texts, day, firsts)
    if isinstance(farm, Faults):
        return farm
    stranger = None if earlier is None else of_another_farm(earlier, farm.settings.id)
    return (farm, earlier) if stranger is None else Faults((stranger,))
