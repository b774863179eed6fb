"""Ways to write a random farm otherwise: harder, in another order, under other names."""

import csv
import io
import random
import re
from collections.abc import Callable, Mapping
from datetime import date

from tests.properties.planning import Texts

REORDERED = ("groups.csv", "events.csv", "risk.csv", "sales.csv")
"""Tables whose rows may stand in any order. Those of wishes, findings and the record are told apart by their row."""

NAMED_IN = ("group", "groups", "cohort", "mob")
"""Columns that hold names of groups, or of mobs, which may be named as a group."""


def with_closed(files: Texts, day: date) -> Texts:
    """The farm with one more closed day."""
    toml = files["farm.toml"]
    stands = re.search(r"^closed = \[(.*)\]$", toml, flags=re.MULTILINE)
    assert stands is not None
    days = ", ".join(one for one in (f'"{day}"', stands[1]) if one)
    return {**files, "farm.toml": toml.replace(stands[0], f"closed = [{days}]")}


def label_files(files: Texts) -> list[str]:
    """The names of the label files."""
    return sorted(name for name in files if name.startswith("labels/"))


def without(files: Texts, name: str) -> Texts:
    """The farm without one of its files."""
    return {key: text for key, text in files.items() if key != name}


def with_longer_withdrawal(files: Texts, more: int) -> Texts:
    """The farm with every meat and export withdrawal some days longer."""

    def longer(found: re.Match[str]) -> str:
        return f"{found[1]} = {int(found[2]) + more}"

    pattern = re.compile(r"^(meat|export) = (\d+)$", flags=re.MULTILINE)
    return {name: pattern.sub(longer, text) if name in label_files(files) else text for name, text in files.items()}


def reordered(files: Texts, seed: int) -> Texts:
    """The farm with rows of its tables, and the tables themselves, in another order."""
    dice = random.Random(seed)
    written = {name: _shuffled(text, dice) if name in REORDERED else text for name, text in files.items()}
    names = list(written)
    dice.shuffle(names)
    return {name: written[name] for name in names}


def _shuffled(text: str, dice: random.Random) -> str:
    header, *rows = text.splitlines(keepends=True)
    dice.shuffle(rows)
    return "".join([header, *rows])


def renamed(files: Texts, name: Callable[[str], str]) -> Texts:
    """The farm with every group and every label under another name."""
    labels = {file: f"labels/{name(file.removeprefix('labels/').removesuffix('.toml'))}.toml"
              for file in label_files(files)}  # fmt: skip
    return {
        labels.get(file, file): _renamed_table(text, name) if file.endswith(".csv") else text
        for file, text in files.items()
    }


def _renamed_table(text: str, name: Callable[[str], str]) -> str:
    rows = list(csv.DictReader(io.StringIO(text)))
    written = io.StringIO()
    writer = csv.DictWriter(written, list(rows[0]), lineterminator="\n")
    writer.writeheader()
    writer.writerows({column: _renamed_cell(column, cell, name) for column, cell in row.items()} for row in rows)
    return written.getvalue()


def _renamed_cell(column: str, cell: str, name: Callable[[str], str]) -> str:
    if column == "label" and cell:
        return name(cell)
    if column not in NAMED_IN or not cell or cell == "all":
        return cell
    return ";".join(_renamed_group(one, name) for one in cell.split(";"))


def _renamed_group(cell: str, name: Callable[[str], str]) -> str:
    group, slash, way_out = cell.partition("/")
    return name(group) + slash + way_out


def without_order(value: object) -> object:
    """A plan.json without what rests on the order of rows: each `row`, and the order in which groups are listed."""
    if isinstance(value, Mapping):
        return {key: _unlisted(key, without_order(one)) for key, one in value.items() if key != "row"}
    if isinstance(value, list):
        return [without_order(one) for one in value]
    return re.sub(r"\brows? \d+(,? (and )?\d+)*", "row", value) if isinstance(value, str) else value


def _unlisted(key: str, value: object) -> object:
    """Cohorts and days stand in the order of groups.csv, and so do the names of groups that are joined."""
    if key in ("cohorts", "days") and isinstance(value, list):
        return sorted(value, key=str)
    return sorted(value.split("; ")) if key == "group" and isinstance(value, str) else value
