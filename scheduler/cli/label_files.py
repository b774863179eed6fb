"""The file of one label in a farm folder: found, read and written, or one sentence that says why not."""

import codecs
import sys
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from scheduler.cli.shared import WRONG_INPUT, refuse, write
from scheduler.cli.terminal import complain

if TYPE_CHECKING:
    from scheduler.labels import Label
    from scheduler.words import Fault


def stop(sentence: str) -> NoReturn:
    """Tells why nothing is done, and ends with exit code 2."""
    complain(sentence)
    sys.exit(WRONG_INPUT)


def place_of(farm: Path, name: str, is_new: bool) -> Path:
    """The label's file; ends with one sentence where there cannot be one."""
    from scheduler.farm import LABEL_FOLDER, WORKBOOK, is_label_file
    from scheduler.tables import did_you_mean, limit, shown

    if (farm / WORKBOOK).exists():
        stop(f"{farm / WORKBOOK} holds the labels: confirm one by the day in its `checked` cell, sheet labels.")
    if not (farm / "farm.toml").is_file():
        stop(f"{farm} is no farm folder: it has no farm.toml; name another, or start one with `season new`.")
    stem = name.removesuffix(".toml")
    if not is_label_file(f"{LABEL_FOLDER}{stem}.toml") or len(stem) > limit("name_letters"):
        stop(f"{shown(name)} cannot name a label: write a short name without / ; and #.")
    place = farm / LABEL_FOLDER / f"{stem}.toml"
    if is_new and place.exists():
        stop(f"{place} is there already: leave out --new to compare it, or choose another name.")
    if not is_new and not place.exists():
        known = sorted(path.stem for path in place.parent.glob("*.toml"))
        mend = did_you_mean(stem, known, "--new files a new one")
        stop(f"There is no label {shown(stem)} in {place.parent}; {mend}")
    return place


def text_of(place: Path, raw: "bytes | Fault | None") -> str:
    """The text of a label file that can be read as a label; tells every fault and ends where there is one."""
    from scheduler.tables import decoded, limit
    from scheduler.words import Fault, Faults

    text = decoded(f"labels/{place.name}", raw, limit("toml_bytes")) if isinstance(raw, bytes) else raw
    if isinstance(text, Fault):
        refuse(Faults((text,)), as_json=False)
    if text is None:
        stop(f"{place} is gone.")
    label_of(place, text)
    return text


def label_of(place: Path, content: str) -> "Label":
    """The label of this text; tells every fault and ends where there is one."""
    return read_or_refuse(f"labels/{place.name}", content.encode(), as_json=False)


def read_or_refuse(file: str, content: bytes, as_json: bool) -> "Label":
    """The label of a file's content; tells every fault and ends where there is one."""
    from scheduler.labels import read_label
    from scheduler.tables import Gathered

    gathered = Gathered()
    read = read_label(file, content, gathered)
    if read is None:
        refuse(gathered.faults(), as_json)
    return read


def write_label(place: Path, earlier: "bytes | Fault | None", written: str) -> None:
    """Writes the file whole, unless it has changed since it was read."""
    from scheduler.cli.disk import read_bytes

    if read_bytes(place) != earlier:
        stop(f"{place} has changed meanwhile; nothing was written. Look at it, and read the leaflet again.")
    mark = codecs.BOM_UTF8 if isinstance(earlier, bytes) and earlier.startswith(codecs.BOM_UTF8) else b""
    write(place.parent, {place.name: mark + written.encode()})
