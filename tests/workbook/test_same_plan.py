"""A farm as text files and the same farm as a workbook are planned alike, byte for byte but for places in files."""

import json
import re
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from scheduler.cli import main
from scheduler.farm import Farm, read_farm, workbook_of
from scheduler.plan import make_plan
from scheduler.words import Faults
from tests.oracle.farms import random_farm
from tests.outside.plans import SAMPLES, TODAY
from tests.properties.planning import SMALL_SEEDS, never, text_of
from tests.workbook.books import as_of_files, read

_LABEL_FILE = re.compile(r"labels/[\w-]+\.toml|labels\.csv, row \d+")
_SETTING = re.compile(r"farm\.toml, (?:cell \w+, value(?:, )?)?(?:[\w.]+\[\d+\]|work\.\w+)?")
FILES = ("calendar.ics", "summary.html", "tasks.csv", "plan.json")


def placeless(value: Any) -> Any:
    """A value of plan.json without `where`, and texts with the names of text files."""
    if isinstance(value, dict):
        return {key: placeless(one) for key, one in value.items() if key != "where"}
    if isinstance(value, list):
        return [placeless(one) for one in value]
    return alike(value) if isinstance(value, str) else value


def alike(text: str) -> str:
    """A text whose places in a workbook, in label files and in the settings read alike."""
    return _SETTING.sub("farm.toml", _LABEL_FILE.sub("a label", as_of_files(text)))


def written(farm: Path, out: Path, today: str) -> dict[str, str]:
    """The files that `season plan` writes."""
    command = ["plan", str(farm), "--out", str(out), "--today", today, "--seconds", "60"]
    result = CliRunner().invoke(main, command, catch_exceptions=False)
    assert result.exit_code in (0, 1), result.output
    texts = {name: (out / name).read_bytes().decode() for name in FILES}
    unfolded = texts["calendar.ics"].replace("\r\n ", "").replace("\\,", ",")  # RFC 5545, 3.1 and 3.3.11
    return texts | {"calendar.ics": unfolded}


def as_json(read: Farm | Faults, today: date) -> str:
    """plan.json of a farm, placeless."""
    assert isinstance(read, Farm), read
    return json.dumps(placeless(json.loads(text_of(make_plan(read, today, None, never)))))


@pytest.mark.parametrize("family", SMALL_SEEDS)
def test_a_random_farm_and_its_workbook_are_planned_alike(family: str) -> None:
    farm = random_farm(SMALL_SEEDS[family], 1, family)
    files = {name: text.encode() for name, text in farm.files.items()}
    of_book = read(workbook_of(files, farm.today), farm.today)
    assert as_json(of_book, farm.today) == as_json(read_farm(files, farm.today), farm.today)


@pytest.mark.parametrize("name", TODAY)
def test_a_sample_farm_and_its_workbook_are_planned_alike(tmp_path: Path, name: str) -> None:
    result = CliRunner().invoke(main, ["new", str(tmp_path / "book"), "--like", name, "--workbook"])
    assert result.exit_code == 0, result.output
    of_text = written(SAMPLES / name, tmp_path / "of-text", TODAY[name])
    of_book = written(tmp_path / "book", tmp_path / "of-book", TODAY[name])
    for file in FILES[:3]:
        assert alike(of_book[file]) == alike(of_text[file])
    plans = [json.dumps(placeless(json.loads(files["plan.json"]))) for files in (of_book, of_text)]
    assert plans[0] == plans[1]
