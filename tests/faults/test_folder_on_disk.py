"""The farm folder on disk: what is offered to the reader, and what stands where a file should stand."""

import os
from datetime import date
from pathlib import Path

import pytest

from scheduler.cli.disk import read_bytes, read_folder
from scheduler.farm import read_farm
from scheduler.tables import limit
from scheduler.words import Fault
from tests.farm.lawful import LAWFUL, TODAY, farm, said


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The lawful farm on disk."""
    (tmp_path / "labels").mkdir()
    for name, text in LAWFUL.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    return tmp_path


def faults_of(folder: Path) -> list[str]:
    return said(read_farm(read_folder(folder), TODAY))


def test_a_folder_is_read_as_its_files_say(folder: Path) -> None:
    assert read_farm(read_folder(folder), TODAY) == farm()


def test_notes_pictures_plans_and_hidden_files_are_left_alone(folder: Path) -> None:
    (folder / "plan").mkdir()
    (folder / "labels" / "old").mkdir()
    names = "plan/tasks.csv notes.txt photo.jpg calendar.ics README.md .groups.csv ~$farm.xlsx labels/leaflet.pdf"
    for name in [*names.split(), "labels/old/x.toml", "groups.csv~"]:
        (folder / name).write_bytes(b"\xff")
    assert faults_of(folder) == []


@pytest.mark.parametrize("name", ["Groups.CSV", "pour.toml", "labels/pour.csv", "labels/Pour.TOML", "sheep.ods"])
def test_other_files_that_look_like_tables_are_faults(folder: Path, name: str) -> None:
    (folder / name).write_bytes(b"x" * 100)
    (line,) = faults_of(folder)
    assert line.startswith(f"{name}: ")


def test_a_folder_in_place_of_a_table_is_a_fault(folder: Path) -> None:
    (folder / "stock.csv").unlink()
    (folder / "stock.csv").mkdir()
    assert faults_of(folder) == ["stock.csv: found a folder of this name; expected a file; rename or remove it."]


def test_a_pipe_in_place_of_a_table_is_a_fault_and_is_not_waited_for(folder: Path) -> None:
    (folder / "stock.csv").unlink()
    os.mkfifo(folder / "stock.csv")
    assert faults_of(folder) == ["stock.csv: found no file that can be read; expected a file; rename or remove it."]


def test_a_link_that_leads_to_itself_is_a_fault(folder: Path) -> None:
    (folder / "stock.csv").unlink()
    (folder / "stock.csv").symlink_to("stock.csv")
    assert [line.split(":")[0] for line in faults_of(folder)] == ["stock.csv"]


def test_a_link_to_a_lawful_table_is_read(folder: Path) -> None:
    (folder / "stock.csv").rename(folder / "stock.txt")
    (folder / "stock.csv").symlink_to("stock.txt")
    assert faults_of(folder) == []


def test_no_more_than_the_limit_is_read_of_a_large_file(folder: Path) -> None:
    with (folder / "weather.csv").open("wb") as file:
        file.truncate(50_000_000_000)
    assert faults_of(folder)[0].startswith("weather.csv: too large to read; expected at most 8000000 bytes")


def test_a_missing_folder_is_one_fault(tmp_path: Path) -> None:
    (line,) = faults_of(tmp_path / "nowhere")
    assert "nowhere: found nothing to read (no such file or directory)" in line


def test_a_file_in_place_of_the_folder_is_one_fault(folder: Path) -> None:
    (line,) = faults_of(folder / "farm.toml")
    assert "expected a farm folder" in line


def test_an_empty_folder_lacks_both_required_files(tmp_path: Path) -> None:
    assert [line.split(":")[0] for line in faults_of(tmp_path)] == ["farm.toml", "groups.csv"]


def test_a_folder_of_very_many_tables_is_one_fault(tmp_path: Path) -> None:
    for number in range(limit("folder_files") + 1):
        (tmp_path / f"{number}.csv").touch()
    (line,) = faults_of(tmp_path)
    assert "files that look like tables" in line


def test_a_name_that_is_no_text_can_be_printed(folder: Path) -> None:
    (folder / os.fsdecode(b"caf\xe9.csv")).touch()
    (line,) = faults_of(folder)
    assert line.encode("utf-8").startswith(b"caf?.csv: ")


def test_a_single_file_is_absent_read_or_a_fault(folder: Path) -> None:
    assert read_bytes(folder / "plan" / "plan.json") is None
    assert read_bytes(folder / "groups.csv" / "plan.json") is None
    assert read_bytes(folder / "groups.csv") == LAWFUL["groups.csv"].encode()
    assert isinstance(read_bytes(folder / "labels"), Fault)


def test_the_day_decides_what_is_left_out_whatever_the_disk_says(folder: Path) -> None:
    os.utime(folder / "wishes.csv", (0, 0))
    read = read_farm(read_folder(folder), date(2027, 6, 21))
    assert read == farm(today=date(2027, 6, 21))
