"""season dose: what a label's use means in millilitres, for any weight and for a group of the farm."""

from collections.abc import Iterable
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from scheduler.cli.label_files import read_or_refuse
from scheduler.cli.shared import folders, json_option, label_names, load, refuse, today_option
from scheduler.cli.terminal import tell, tell_json, width

if TYPE_CHECKING:
    from scheduler.farm import Farm, Group
    from scheduler.labels import Label, Use
    from scheduler.season import Season


@click.command(
    epilog="""\b
Examples:
  season dose my-farm/labels/hill-pour-on.toml
  season dose hill-pour-on --farm my-farm --use guard
  season dose hill-pour-on --farm my-farm --group Lambs --date 2027-06-14
  season dose hill-pour-on --farm my-farm --json

It reckons how much, not whether: enter a dose in wishes.csv, and `season check` says what speaks against it.
"""
)
@click.argument("label", shell_complete=label_names)
@click.option("--farm", type=click.Path(path_type=Path), shell_complete=folders,
              help="The farm folder in which LABEL is a label's name.")  # fmt: skip
@click.option("--group", help="A group of the farm: its weights, lots and ml to load.")
@click.option("--date", "dosed_on", type=click.DateTime(["%Y-%m-%d"]), metavar="DATE",
              help="The day on which the group is dosed; otherwise today.")  # fmt: skip
@click.option("--use", "use_id", metavar="USE", help="Only this use of the label.")
@today_option
@json_option
def dose(
    label: str,
    farm: Path | None,
    group: str | None,
    dosed_on: datetime | None,
    use_id: str | None,
    day: date,
    as_json: bool,
) -> None:
    """Show the doses of LABEL, a label file or with --farm the name of a label: from weight to ml, and head in a pack.

    With --group also the weights expected on a day, where to part sheep of uneven weight, both doses and what to load.
    """
    from scheduler.outputs import dose_json, dose_text
    from scheduler.report import label_doses

    if farm is None and (group is not None or dosed_on is not None):
        raise click.UsageError("--group and --date belong to a farm: name its folder with --farm.")
    whom = None
    if farm is None:
        chosen = _label_of_file(Path(label), as_json)
    else:
        read, _ = load(farm, farm / "plan", day, as_json)
        chosen = read.labels[_known(label, read.labels, "LABEL", "label", as_json)]
        if group is not None:
            whom = _whom(read, group, day if dosed_on is None else dosed_on.date(), day, as_json)
    table = label_doses(chosen, day, _uses(chosen, use_id, as_json), whom)
    if as_json:
        tell_json(dose_json(table))
    else:
        tell(dose_text(table, width()))


def _label_of_file(path: Path, as_json: bool) -> "Label":
    """The label of a file; tells every fault and ends where there is one."""
    from scheduler.cli.disk import read_bytes
    from scheduler.words import Fault, Faults, Where

    content = read_bytes(path)
    if content is None:
        mend = "write the path of a label file, or name the farm with --farm and the label alone"
        content = Fault(Where(str(path)), "found no such file", "expected a label file", mend)
    if isinstance(content, Fault):
        refuse(Faults((content,)), as_json)
    return read_or_refuse(path.as_posix(), content, as_json)


def _known(name: str, names: Iterable[str], place: str, noun: str, as_json: bool) -> str:
    """The name, if it is one of these; else ends with the nearest."""
    from scheduler.tables import did_you_mean, shown
    from scheduler.words import Fault, Faults, Where

    known = sorted(names)
    if name not in known:
        mend = did_you_mean(name, known, f"there are: {', '.join(known)}" if known else "there is none")
        refuse(Faults((Fault(Where(place), f"found {shown(name)}", f"no such {noun}", mend),)), as_json)
    return name


def _uses(label: "Label", use_id: str | None, as_json: bool) -> "tuple[Use, ...]":
    if use_id is not None:
        _known(use_id, [use.id for use in label.uses], "--use", "use of this label", as_json)
    return tuple(use for use in label.uses if use_id in (None, use.id))


def _whom(read: "Farm", group: str, dosed_on: date, today: date, as_json: bool) -> "tuple[Season, Group, date]":
    """The group on its day; ends where there is no such group, or none of it on the farm."""
    from scheduler.season import Season
    from scheduler.words import Fault, Faults, Where, say_day

    groups = {one.name: one for one in read.groups}
    found = groups[_known(group, groups, "--group", "group", as_json)]
    season = Season(read, today)
    if not any(season.presence.on_farm(cohort, dosed_on) for cohort in season.cohorts_of_group(group)):
        lacking = f'found none of "{group}" on the farm on {say_day(dosed_on)}'
        mend = f"name a day on which they are there ({found.where})"
        refuse(Faults((Fault(Where("--date"), lacking, "expected sheep to dose", mend),)), as_json)
    return season, found, dosed_on
