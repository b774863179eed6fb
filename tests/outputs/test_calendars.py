"""Names of calendar files: safe on every disk, and one for each group whatever the groups are called."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.outputs.calendars import MOST_LETTERS, file_names

LIKE = st.text(alphabet="Ab -?_.é", min_size=1, max_size=4)


@given(st.lists(st.text(min_size=1, max_size=60) | LIKE, unique=True))
def test_each_name_has_a_file_of_its_own_on_a_disk_blind_to_case(names: list[str]) -> None:
    found = file_names(names)
    assert list(found) == names
    assert len({name.casefold() for name in found.values()}) == len(names)
    for name in found.values():
        assert name.strip("-") == name != ""
        assert all(letter.isalnum() or letter == "-" for letter in name)
        assert len(f".calendar-{name}.ics.1234567.new".encode()) <= 255, "the name while it is written"


@pytest.mark.parametrize(
    ("name", "file"),
    [("Ewes", "Ewes"), ("Top lambs", "Top-lambs"), ("Ewes & tups (hill)", "Ewes-tups-hill"), ("Mütter 2", "Mütter-2"),
     ("..\\x", "x"), ("x" * 50, "x" * MOST_LETTERS)],
)  # fmt: skip
def test_a_name_is_known_again_in_its_file(name: str, file: str) -> None:
    assert file_names([name, "other"])[name] == file


def test_names_that_differ_in_case_or_signs_alone_end_in_digits_that_stay() -> None:
    """Which of them stands first in the table, and whether more come, changes no file."""
    both = file_names(["Ewes", "ewes?"])
    assert all(name.casefold().startswith("ewes-") for name in both.values())
    assert file_names(["ewes?", "Ewes", "EWES!"]).items() >= both.items()


def test_a_group_may_be_called_as_anothers_file() -> None:
    taken = file_names(["Ewes", "ewes?"])["Ewes"]
    assert len({name.casefold() for name in file_names(["Ewes", "ewes?", taken]).values()}) == 3


def test_a_name_without_letters_is_told_by_digits() -> None:
    assert file_names(["?!", "other"])["?!"].isalnum()
