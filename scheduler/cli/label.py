"""season label: a leaflet read twice, and a label file that can be trusted because of it."""

import sys
from collections.abc import Sequence
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from scheduler.cli.label_files import label_of, place_of, stop, text_of, write_label
from scheduler.cli.shared import farm_argument, label_names, today_option, write
from scheduler.cli.terminal import ask, say, tell, width
from scheduler.words import say_day

if TYPE_CHECKING:
    from scheduler.labels import Change, Label


@click.command(
    epilog="""\b
Examples:
  season label my-farm hill-pour-on           reads twice, writes `checked`
  season label my-farm dip --new              files a new label the same way
  season label my-farm hill-pour-on --print   a sheet for the vet to sign
  season label my-farm hill-pour-on --print --out sheet.html

Ctrl-C or Ctrl-D leaves at any time with nothing written. Answers may come by a pipe too, one a line.
"""
)
@farm_argument
@click.argument("name", shell_complete=label_names)
@click.option("--new", "is_new", is_flag=True, help="File a label that is not there yet.")
@click.option("--print", "is_sheet", is_flag=True, help="Write a sheet to sign instead, and ask nothing.")
@click.option("--out", type=click.Path(path_type=Path), help="The sheet's file; otherwise it lies beside the label.")
@today_option
def label(farm: Path, name: str, is_new: bool, is_sheet: bool, out: Path | None, day: date) -> None:
    """Compare the label NAME of FARM with the leaflet in your hand, figure by figure, and date it as checked.

    Each figure is asked twice, the second time out of sight of the first; where the two differ, both are shown and a
    further reading decides. The file's own figures are not shown before. Comments and order in the file stay.
    """
    if is_new and is_sheet:
        raise click.UsageError("--new and --print do not go together: file the label first.")
    if out is not None and not is_sheet:
        raise click.UsageError("--out is for the sheet of --print.")
    if out is not None and out.suffix != ".html":
        raise click.UsageError("--out must end in .html, so that no other file is written over.")
    from scheduler.cli.disk import read_bytes

    place = place_of(farm, name, is_new)
    raw = read_bytes(place)
    content = "" if is_new else text_of(place, raw)
    if is_sheet:
        _print_sheet(place, content, out or place.with_suffix(".html"), day)
        return
    try:
        written = _read_twice(place, content, is_new, day)
    except (EOFError, KeyboardInterrupt, click.Abort):
        if sys.stdin.isatty():
            click.echo(err=True)
        stop("Left before the end; nothing was written.")
    write_label(place, raw, written)
    tell(f"Wrote {place}, checked on {day.isoformat()}.\nFor a second pair of eyes add --print.\n")


def _print_sheet(place: Path, content: str, out: Path, day: date) -> None:
    from scheduler.outputs import label_html
    from scheduler.report import label_sheet

    sheet = label_sheet(label_of(place, content), content, day)
    write(out.parent, {out.name: label_html(sheet).encode()})
    tell(f"Wrote {out}\nPrint it, and let the adviser or vet sign it with the leaflet beside it.\n")


def _read_twice(place: Path, content: str, is_new: bool, day: date) -> str:
    """The label file as both readings have it, once the keeper has said yes to it."""
    from scheduler.labels import agreed, doubts_of, filed, filed_at, filled

    say(f"Label {place.stem}: have the leaflet in your hand that came with the pack, not another edition.")
    say("The leaflet, your vet and the law decide; where it cannot be understood, ask the vet before you file it.")
    if not is_new:
        _confirm_words(label_of(place, content), "Does the leaflet say the same (yes or no)?")
    known = None if is_new else partial(filed_at, filed(content))
    answers = agreed(ask, say, click.clear, known)
    try:
        written, changes = filled(content, answers, day)
    except ValueError:
        stop(f"{place} is laid out so that it cannot be changed safely: keep each [[use]] and its doses together.")
    read = label_of(place, written)
    _show_figures(read, () if is_new else changes, doubts_of(read))
    asked = f"Write this down as compared with the leaflet on {say_day(day)} (yes or no)?"
    if is_new:
        _confirm_words(read, asked)
    elif not _is_yes(asked):
        stop("Nothing was written.")
    return written


def _confirm_words(read: "Label", question: str) -> None:
    """Shows what is no figure; ends where the leaflet says otherwise."""
    from scheduler.outputs import lines_text, table_lines
    from scheduler.report import label_words

    say("In words, the label says:")
    tell(lines_text(f"  {line}" for line in table_lines((), label_words(read), width() - 2)))
    if not _is_yes(question):
        stop("Nothing was written. Words of a label that is filed are mended in its file; then read it again.")


def _show_figures(read: "Label", changes: "Sequence[Change]", doubts: Sequence[str]) -> None:
    """What both readings have of withdrawal, what changes in the file, and what to look at once more."""
    from scheduler.labels import said

    periods = (("meat", read.meat), ("milk", read.milk), ("export", read.export), ("shearing", read.wool))
    say(f"Both readings agree. Days of withdrawal: {', '.join(f'{name} {said(value)}' for name, value in periods)}.")
    for change in changes:
        say(f"Changes {change}.")
    for doubt in doubts:
        say(f"Look once more: {doubt}")


def _is_yes(question: str) -> bool:
    while True:
        answer = ask(question).strip().casefold()
        if answer in ("yes", "y", "no", "n"):
            return answer.startswith("y")
        say("Answer yes or no.")
