"""The comparison finds nothing in the oracle's own plan, and finds what was bent in it."""

from __future__ import annotations

import copy
from pathlib import Path

import pytest

from tests.oracle.compare import compare
from tests.oracle.farms import FAMILIES, RandomFarm, random_farm, write_farm
from tests.oracle.milp import solve
from tests.oracle.paper import Plan, paper_plan
from tests.oracle.world import read_world


def _own(farm: RandomFarm, place: Path) -> Plan:
    write_farm(farm, place)
    world = read_world(place, farm.today)
    answer = solve(world)
    assert answer is not None
    return paper_plan(world, answer)


@pytest.mark.parametrize("family", FAMILIES)
def test_the_oracles_own_plan_has_no_difference(family: str, tmp_path: Path) -> None:
    farm = random_farm(4, 1, family)
    assert [one for one in compare(tmp_path, _own(farm, tmp_path), farm.today) if "left out" not in one] == []


@pytest.mark.parametrize(
    ("part", "key", "value"),
    [
        ("tasks", "dose_ml", 1),
        ("tasks", "money_minor", -1),
        ("tasks", "date", "2027-12-24"),
        ("days", "state", "fading"),
        ("cohorts", "head", 7777),
    ],
)
def test_what_was_bent_is_found(part: str, key: str, value: object, tmp_path: Path) -> None:
    farm = random_farm(0, 2, "plain")
    plan = copy.deepcopy(_own(farm, tmp_path))
    plan[part][0][key] = value
    assert compare(tmp_path, plan, farm.today)


def test_a_dearer_plan_is_found(tmp_path: Path) -> None:
    farm = random_farm(0, 2, "plain")
    plan = _own(farm, tmp_path)
    plan["tasks"] = plan["tasks"][1:]
    assert any(line.startswith("least (exposed, money)") for line in compare(tmp_path, plan, farm.today))


def test_the_same_seed_gives_the_same_farm() -> None:
    assert random_farm(5, 2, "mixed") == random_farm(5, 2, "mixed")
    assert random_farm(5, 2, "mixed") != random_farm(6, 2, "mixed")
