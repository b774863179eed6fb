"""`season new`: a folder that a keeper can fill in, and copies of the sample farms."""

import tomllib
from collections.abc import Mapping
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from scheduler.cli.disk import read_folder
from scheduler.cli.new import new
from scheduler.farm import TABLES, Farm, read_farm
from scheduler.words import package_text, shipped

TODAY = date(2026, 11, 25)


def run(*arguments: str) -> Result:
    """The command with these arguments."""
    return CliRunner().invoke(new, [*arguments, "--today", TODAY.isoformat()])


@pytest.fixture
def made(tmp_path: Path) -> Path:
    """A new farm folder."""
    assert run(str(tmp_path / "farm")).exit_code == 0
    return tmp_path / "farm"


def read(folder: Path, today: date = TODAY) -> Farm:
    farm = read_farm(read_folder(folder), today)
    assert isinstance(farm, Farm), farm
    return farm


def test_a_new_farm_is_lawful_and_its_season_lies_in_the_year_after_today(made: Path) -> None:
    farm = read(made)
    assert (farm.settings.start.year, farm.settings.end.year) == (2027, 2027)
    assert farm.left_out == ()


def test_a_new_farm_holds_every_table_with_every_column(made: Path) -> None:
    for columns in TABLES:
        header = (made / columns.file).read_text(encoding="utf-8").splitlines()[0].split(",")
        if columns.file in ("groups.csv", "mobs.csv", "findings.csv", "weights.csv", "record.csv", "sales.csv"):
            assert set(header) == set(columns.all), columns.file
        assert set(columns.required) <= set(header) <= set(columns.all), columns.file


def test_no_direction_and_no_weather_stand_there_by_accident(made: Path) -> None:
    farm = read(made)
    assert (farm.directions, farm.weather) == ((), ())


def keys(table: Mapping[str, object], above: str = "") -> set[str]:
    """Every key of a TOML table, with the keys that it stands under."""
    inner = [(name, value) for name, value in table.items() if isinstance(value, dict)]
    return {above + name for name in table}.union(*(keys(value, f"{above}{name}.") for name, value in inner))


def test_a_new_farm_toml_states_every_key_with_its_default(made: Path) -> None:
    defaults = tomllib.loads(package_text("scheduler.farm", "defaults.toml"))
    written = tomllib.loads((made / "farm.toml").read_text(encoding="utf-8"))
    required = {"farm.name", "farm.country", "farm.timezone", "farm.latitude", "farm.longitude", "season.start"}
    assert keys(written) == keys(defaults) | required | {"season.end", "money.currency"}
    for section, values in defaults.items():
        assert {name: written[section][name] for name in values} == values


def test_every_key_of_a_new_farm_toml_is_explained_in_its_line(made: Path) -> None:
    lines = (made / "farm.toml").read_text(encoding="utf-8").splitlines()
    bare = [line for line in lines if "=" in line and "#" not in line]
    assert {line.split("=")[0].strip() for line in bare} <= {"blowfly-strike", "ticks", "head-fly", "lice", "scab"}


def test_the_example_label_is_unconfirmed_and_says_that_it_is_invented(made: Path) -> None:
    (label,) = read(made).labels.values()
    assert label.checked is None
    assert "invented" in label.name


@pytest.mark.parametrize("name", ["fellside", "lowland-organic", "southern"])
def test_a_sample_farm_is_copied_byte_for_byte(tmp_path: Path, name: str) -> None:
    assert run(str(tmp_path / "copy"), "--like", name).exit_code == 0
    sample = shipped("sample_data").joinpath(name)
    for path in (tmp_path / "copy").rglob("*"):
        if path.is_file():
            assert path.read_bytes() == sample.joinpath(*path.relative_to(tmp_path / "copy").parts).read_bytes()
    assert read(tmp_path / "copy").groups


def test_an_unknown_sample_farm_lists_the_known_ones(tmp_path: Path) -> None:
    result = run(str(tmp_path / "copy"), "--like", "felside")
    assert result.exit_code == 2
    assert 'There are: fellside, lowland-organic, southern; did you mean "fellside"?' in result.output
    assert not (tmp_path / "copy").exists()


def test_nothing_is_written_over(made: Path) -> None:
    (made / "groups.csv").write_text("mine", encoding="utf-8")
    assert run(str(made)).exit_code == 2
    assert run(str(made / "groups.csv")).exit_code == 2
    assert (made / "groups.csv").read_text(encoding="utf-8") == "mine"


def test_an_empty_folder_may_be_filled(tmp_path: Path) -> None:
    assert run(str(tmp_path)).exit_code == 0
    assert read(tmp_path).groups


def test_a_place_that_cannot_be_written_is_one_sentence_and_exit_code_3(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    result = run(str(tmp_path / "file" / "farm"))
    assert result.exit_code == 3
    assert result.stderr.startswith("Nothing was written to ")


def test_it_says_what_to_do_next(tmp_path: Path) -> None:
    output = run(str(tmp_path / "farm")).stdout
    assert f"season plan {tmp_path / 'farm'}" in output
    assert "your vet" in output
