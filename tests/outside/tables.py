"""Reads the published figures that stand beside these tests."""

import csv
from pathlib import Path

DATA = Path(__file__).with_name("data")
Row = dict[str, str]


def rows(name: str) -> list[Row]:
    """The rows of a table of published figures; each has its source in a column of its own."""
    with (DATA / name).open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table))
