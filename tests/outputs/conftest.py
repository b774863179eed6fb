"""The snapshot fixture: compares an output with the file that holds it, or writes that file when asked to.

SEASON_SNAPSHOTS=update writes; whatever is written has to be read by a person before it is committed.
"""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

FOLDER = Path(__file__).parent.parent / "snapshots"
Snapshot = Callable[[str, bytes], None]


@pytest.fixture
def snapshot() -> Snapshot:
    """A function of the file's name and the bytes that should stand in it."""

    def compare(name: str, found: bytes) -> None:
        kept = FOLDER / name
        if os.environ.get("SEASON_SNAPSHOTS") == "update":
            kept.write_bytes(found)
        assert found.decode().splitlines() == kept.read_bytes().decode().splitlines()
        assert found == kept.read_bytes()

    return compare
