"""A farm as text files and the same farm as a workbook are one farm, but for the places of its rows."""

from datetime import date
from typing import Any

import pytest
from msgspec import Struct

from scheduler.cli.disk import read_folder
from scheduler.farm import Farm, read_farm, workbook_of
from scheduler.words import Where
from tests.farm.lawful import TODAY
from tests.oracle.farms import FAMILIES, random_farm
from tests.outside.plans import SAMPLES
from tests.workbook.books import FILES, as_of_files, read

NOWHERE = Where("")


def placeless(value: Any) -> Any:
    """A value with every place in it left out."""
    if isinstance(value, Where):
        return NOWHERE
    if isinstance(value, Struct):
        return type(value), [placeless(getattr(value, name)) for name in value.__struct_fields__]
    if isinstance(value, tuple):
        return tuple(map(placeless, value))
    if isinstance(value, dict):
        return {key: placeless(one) for key, one in value.items()}
    return as_of_files(value) if isinstance(value, str) else value


def both(files: dict[str, bytes], today: date) -> tuple[Farm, Farm]:
    """The farm read from text files, and from the workbook written of them."""
    as_text, as_book = read_farm(files, today), read(workbook_of(files, today), today)
    assert isinstance(as_text, Farm), as_text
    assert isinstance(as_book, Farm), as_book
    return as_text, as_book


@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("seed", range(6))
def test_a_random_farm_comes_back_from_its_workbook(family: str, seed: int) -> None:
    farm = random_farm(seed, 2, family)
    as_text, as_book = both({name: text.encode() for name, text in farm.files.items()}, farm.today)
    assert placeless(as_book) == placeless(as_text)
    assert list(as_book.labels) == list(as_text.labels)


def test_a_list_without_entries_is_not_taken_for_an_absent_one() -> None:
    settings = FILES["farm.toml"] + b"[calendar]\nremind = []\n"
    as_text, as_book = both({**FILES, "farm.toml": settings}, TODAY)
    assert as_text.settings.remind == as_book.settings.remind == ()


def test_every_row_keeps_its_number() -> None:
    as_text, as_book = both(FILES, TODAY)
    for table in ("groups", "mobs", "events", "sales", "risk", "findings", "weighings", "record", "stock", "wishes"):
        rows = [row.where.row for row in getattr(as_text, table)]
        assert rows
        assert [row.where.row for row in getattr(as_book, table)] == rows
        assert {row.where.file for row in getattr(as_book, table)} == {"farm.xlsx"}


@pytest.mark.parametrize("name", ["fellside", "lowland-organic", "southern"])
def test_a_sample_farm_comes_back_from_its_workbook(name: str) -> None:
    files = {file: content for file, content in read_folder(SAMPLES / name).items() if isinstance(content, bytes)}
    as_text, as_book = both(files, date(2027, 9, 1))
    assert placeless(as_book) == placeless(as_text)
