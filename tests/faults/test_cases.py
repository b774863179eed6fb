"""One small change of a lawful farm per kind of wrong input, and exactly what is said of it."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from scheduler.farm import read_farm
from tests.farm.lawful import LAWFUL, TODAY, said, texts

FILES = sorted(Path(__file__).parent.glob("cases/*.toml"))
CASES: list[dict[str, Any]] = [case for file in FILES for case in tomllib.loads(file.read_text("utf-8"))["case"]]


def changed(case: dict[str, Any]) -> dict[str, str]:
    """The files that a case writes anew, or in which it puts one text in the place of another."""
    files: dict[str, str] = dict(case.get("write", {}))
    for edit in case.get("edit", []):
        before = files.get(edit["file"], LAWFUL[edit["file"]])
        assert before.count(edit["old"]) == 1, edit
        files[edit["file"]] = before.replace(edit["old"], edit["new"])
    return files


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_a_wrong_input_is_said_with_its_place_and_how_to_mend_it(case: dict[str, Any]) -> None:
    offered = {name: text for name, text in texts(changed(case)).items() if name not in case.get("remove", [])}
    assert said(read_farm(offered, TODAY)) == case["faults"]


def test_the_farm_that_the_cases_change_has_no_fault() -> None:
    assert said(read_farm(texts(), TODAY)) == []


def test_names_of_cases_are_claims_of_their_own() -> None:
    names = [case["name"] for case in CASES]
    assert len(set(names)) == len(names)
