"""`season new`: a farm folder to fill in, or a copy of a sample farm."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from scheduler.cli.shared import today_option, write
from scheduler.cli.terminal import say, tell, width

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

    from scheduler.outputs import Line


@click.command(
    epilog="""\b
Examples:
  season new hill-farm
  season new hill-farm --workbook          the same as one workbook, farm.xlsx
  season new trial --like fellside"""
)
@click.argument("farm", type=click.Path(path_type=Path))
@click.option("--like", metavar="NAME", help="Copy this sample farm instead of the one to fill in.")
@click.option("--workbook", is_flag=True, help="Write the tables as one workbook, farm.xlsx.")
@today_option
def new(farm: Path, like: str | None, workbook: bool, day: date) -> None:
    """Write a new folder FARM with every table, a few example rows and one example label, to be filled in.

    Its season lies in the year after today. Sheep and medicine in it are invented. Nothing is written over.
    """
    from scheduler.outputs import lines_text

    files = _copy_of(like) if like is not None else _blank(day)
    if workbook:
        files = _as_workbook(files, day, like)
    if _is_taken(farm):
        raise click.UsageError(f"{farm} exists already; name another folder, so that nothing is written over.")
    write(farm, files)
    for sentence in _written(farm, files, like):
        say(sentence)
    if like is None:
        tell(lines_text(_what_next(farm, workbook), width()))


def _is_taken(farm: Path) -> bool:
    """Whether something stands there already, other than an empty folder."""
    try:
        return farm.exists() and not (farm.is_dir() and not any(farm.iterdir()))
    except OSError:
        return True


def _blank(today: date) -> dict[str, bytes]:
    """The farm to fill in, with its season in the year after `today`."""
    from scheduler.tables import range_of
    from scheduler.words import shipped

    year = today.year + 1
    if year not in range_of("year"):
        raise click.UsageError(f"--today must lie in a year from 1900 to 2199, not in {today.year}.")
    files = _files(shipped("templates").joinpath("new_farm"))
    return {name: _dated(content, year) for name, content in files.items()}


def _dated(content: bytes, year: int) -> bytes:
    return content.replace(b"@LAST_YEAR@", str(year - 2).encode()).replace(b"@YEAR@", str(year).encode())


def _copy_of(like: str) -> dict[str, bytes]:
    from scheduler.tables import did_you_mean
    from scheduler.words import shipped

    samples = {one.name: one for one in shipped("sample_data").iterdir() if one.is_dir()}
    if like not in samples:
        known = ", ".join(sorted(samples))
        near = did_you_mean(like, sorted(samples), "name one of these.")
        raise click.UsageError(f'There is no sample farm "{like}". There are: {known}; {near}')
    return _files(samples[like], leave_out="plan")


def _files(folder: "Traversable", inside: str = "", leave_out: str = "") -> dict[str, bytes]:
    """All files of a shipped folder by their path in it, in order of name."""
    files: dict[str, bytes] = {}
    for one in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if one.is_dir() and one.name != leave_out:
            files |= _files(one, f"{inside}{one.name}/")
        elif one.is_file():
            files[inside + one.name] = one.read_bytes()
    return files


def _as_workbook(files: dict[str, bytes], today: date, like: str | None) -> dict[str, bytes]:
    """The tables as one workbook; of a sample farm its story stays beside it."""
    from scheduler.farm import WORKBOOK, workbook_of

    kept = {"README.md": files["README.md"]} if like is not None else {}
    return {**kept, WORKBOOK: workbook_of(files, today)}


def _written(farm: Path, files: dict[str, bytes], like: str | None) -> Iterator[str]:
    count, them = ("1 file", "it") if len(files) == 1 else (f"{len(files)} files", "them")
    yield f"Wrote {count} to {farm}. The sheep, sales and medicines in {them} are invented."
    if like is not None:
        yield f"Read {farm / 'README.md'}: it tells the farm's story and how to plan it."


def _what_next(farm: Path, workbook: bool) -> "tuple[Line, ...]":
    """What to do with the farm to fill in, line by line; commands are never broken."""
    from scheduler.outputs import Paragraph

    compared = "and add `checked` once you have compared the two"
    if workbook:
        book = farm / "farm.xlsx"
        fill = f"Open {book}; fill in the sheets farm and groups, and replace or delete the other examples."
        file = f"Write one row in the sheet labels, with its packs, uses and doses, for each medicine, {compared}."
    else:
        tables = f"{farm / 'farm.toml'} and {farm / 'groups.csv'}"
        fill = f"Fill in {tables}; replace or delete the other example rows."
        file = f"Write one file in {farm / 'labels'} for each medicine, from the leaflet in your hand, {compared}"
        file += ": `season label` asks for each figure twice."
    return (
        "Next:",
        Paragraph(fill, "  1. ", "     "),
        Paragraph(file, "  2. ", "     "),
        f"  3. season check {farm}",
        f"  4. season plan {farm}",
        "The label in your hand, your vet and the law decide, not this folder.",
    )
