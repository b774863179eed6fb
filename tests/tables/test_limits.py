"""The shipped limits and ranges say what they count and where they come from."""

import tomllib
from decimal import Decimal

import pytest

from scheduler.tables import range_of
from scheduler.words import package_text

RANGES = tomllib.loads(package_text("scheduler.tables", "ranges.toml"), parse_float=Decimal)
LIMITS = tomllib.loads(package_text("scheduler.tables", "limits.toml"))


@pytest.mark.parametrize("name", RANGES)
def test_a_range_has_a_source_and_holds_its_own_example(name: str) -> None:
    assert RANGES[name]["source"]
    assert range_of(name).example in range_of(name)
    assert range_of(name).least < range_of(name).most


@pytest.mark.parametrize("name", LIMITS)
def test_a_limit_is_a_whole_number_with_a_unit(name: str) -> None:
    assert LIMITS[name]["value"] > 0
    assert LIMITS[name]["unit"]


def test_the_least_of_an_open_range_is_not_in_it() -> None:
    assert Decimal(0) not in range_of("act_level")
    assert Decimal(1) in range_of("act_level")
    assert Decimal(0) in range_of("level")
