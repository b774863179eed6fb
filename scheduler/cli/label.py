"""season label: a leaflet read twice, and a label file that can be trusted because of it."""

import codecs
import sys
from collections.abc import Sequence
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from scheduler.cli.shared import OUT_OF_REACH, WRONG_INPUT, farm_argument, label_names, refuse, today_option
from scheduler.cli.terminal import ask, complain, say, tell, width
from scheduler.words import say_day

if TYPE_CHECKING:
    from scheduler.labels import Change, Label
    from scheduler.words import Fault

LEFT = "Left before the end; nothing was written."


@click.command(
    epilog="""\b
Examples:
  season label my-farm hill-pour-on               reads the leaflet twice, then writes `checked`
  season label my-farm dip --new                  files a new label the same way
  season label my-farm hill-pour-on --print       a sheet for the adviser or vet to sign
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
    from scheduler.cli.disk import read_bytes

    place = _place(farm, name, is_new)
    raw = read_bytes(place)
    content = "" if is_new else _text(place, raw)
    if is_sheet:
        _print_sheet(place, content, out or place.with_suffix(".html"), day)
        return
    try:
        written = _read_twice(place, content, is_new, day)
    except (EOFError, KeyboardInterrupt, click.Abort):
        _stop(LEFT)
    _write(place, raw, written)
    tell(f"Wrote {place}, checked on {day.isoformat()}.\nFor a second pair of eyes add --print.\n")


def _stop(sentence: str) -> NoReturn:
    complain(sentence)
    sys.exit(WRONG_INPUT)


def _place(farm: Path, name: str, is_new: bool) -> Path:
    """The label's file; ends with one sentence where there cannot be one."""
    from scheduler.farm import LABEL_FOLDER, WORKBOOK, is_label_file
    from scheduler.tables import did_you_mean, shown

    if (farm / WORKBOOK).exists():
        _stop(f"{farm / WORKBOOK} holds the labels: confirm one by the day in its `checked` cell, sheet labels.")
    if not (farm / "farm.toml").is_file():
        _stop(f"{farm} is no farm folder: it has no farm.toml; name another, or start one with `season new`.")
    stem = name.removesuffix(".toml")
    if not is_label_file(f"{LABEL_FOLDER}{stem}.toml"):
        _stop(f"{shown(name)} cannot name a label: write it without / ; and #.")
    place = farm / LABEL_FOLDER / f"{stem}.toml"
    if is_new and place.exists():
        _stop(f"{place} is there already: leave out --new to compare it, or choose another name.")
    if not is_new and not place.exists():
        known = sorted(path.stem for path in place.parent.glob("*.toml"))
        mend = did_you_mean(stem, known, "--new files a new one")
        _stop(f"There is no label {shown(stem)} in {place.parent}; {mend}")
    return place


def _text(place: Path, raw: "bytes | Fault | None") -> str:
    """The text of a label file that can be read as a label; tells every fault and ends where there is one."""
    from scheduler.tables import decoded, limit
    from scheduler.words import Fault, Faults

    text = decoded(f"labels/{place.name}", raw, limit("toml_bytes")) if isinstance(raw, bytes) else raw
    if isinstance(text, Fault):
        refuse(Faults((text,)), as_json=False)
    if text is None:
        _stop(f"{place} is gone.")
    _label(place, text)
    return text


def _label(place: Path, content: str) -> "Label":
    from scheduler.labels import read_label
    from scheduler.tables import Gathered

    gathered = Gathered()
    read = read_label(f"labels/{place.name}", content.encode(), gathered)
    if read is None:
        refuse(gathered.faults(), as_json=False)
    return read


def _print_sheet(place: Path, content: str, out: Path, day: date) -> None:
    from scheduler.cli.disk import write_whole
    from scheduler.outputs import label_html
    from scheduler.report import label_sheet

    sheet = label_sheet(_label(place, content), content, day)
    trouble = write_whole(out.parent, {out.name: label_html(sheet).encode()})
    if trouble is not None:
        complain(trouble)
        sys.exit(OUT_OF_REACH)
    tell(f"Wrote {out}\nPrint it, and let the adviser or vet sign it with the leaflet beside it.\n")


def _read_twice(place: Path, content: str, is_new: bool, day: date) -> str:
    """The label file as both readings have it, once the keeper has said yes to it."""
    from scheduler.labels import agreed, doubts_of, filed, filed_at, filled

    say(f"Label {place.stem}: have the leaflet in your hand that came with the pack, not another edition.")
    say("The leaflet, your vet and the law decide; where it cannot be understood, ask the vet before you file it.")
    if not is_new:
        _confirm_words(_label(place, content), "Does the leaflet say the same (yes or no)?")
    known = None if is_new else partial(filed_at, filed(content))
    answers = agreed(ask, say, click.clear, known)
    try:
        written, changes = filled(content, answers, day)
    except ValueError:
        _stop(f"{place} is laid out so that it cannot be changed safely: keep each [[use]] and its doses together.")
    read = _label(place, written)
    _show_figures(read, () if is_new else changes, doubts_of(read))
    asked = f"Write this down as compared with the leaflet on {say_day(day)} (yes or no)?"
    if is_new:
        _confirm_words(read, asked)
    elif not _is_yes(asked):
        _stop("Nothing was written.")
    return written


def _confirm_words(read: "Label", question: str) -> None:
    """Shows what is no figure; ends where the leaflet says otherwise."""
    from scheduler.outputs import lines_text, table_lines
    from scheduler.report import label_words

    say("In words, the label says:")
    tell(lines_text(f"  {line}" for line in table_lines((), label_words(read), width() - 2)))
    if not _is_yes(question):
        _stop("Nothing was written. Mend the words in the label file, then read the leaflet again.")


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


def _write(place: Path, earlier: "bytes | Fault | None", written: str) -> None:
    """Writes the file whole, unless it has changed since it was read."""
    from scheduler.cli.disk import read_bytes, write_whole

    if read_bytes(place) != earlier:
        _stop(f"{place} has changed meanwhile; nothing was written. Look at it, and read the leaflet again.")
    mark = codecs.BOM_UTF8 if isinstance(earlier, bytes) and earlier.startswith(codecs.BOM_UTF8) else b""
    trouble = write_whole(place.parent, {place.name: mark + written.encode()})
    if trouble is not None:
        complain(trouble)
        sys.exit(OUT_OF_REACH)
