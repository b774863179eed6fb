"""The built-in levels follow the calendar, the latitude and the hemisphere.

Seasons from published abstracts are held loosely (the levels are our own judgement): strike April or May to October,
ticks in two waves (Milne 1945, Parasitology), head fly June to September (Tarry & Kirkwood 1976, Bulletin of
Entomological Research), lice heaviest in winter (Scott 1952, Australian Journal of Agricultural Research).
"""

from datetime import date
from decimal import Decimal

import pytest

from scheduler.risk import default_level
from scheduler.words import TARGETS, Target

ACT: dict[Target, Decimal] = {
    "blowfly-strike": Decimal("0.3"),
    "ticks": Decimal("0.3"),
    "head-fly": Decimal("0.5"),
    "lice": Decimal("0.5"),
    "scab": Decimal("0.5"),
}


def months_at_risk(target: Target, latitude: str) -> list[int]:
    """Months whose level reaches the usual act level."""
    day = [date(2027, month, 15) for month in range(1, 13)]
    return [d.month for d in day if default_level(target, Decimal(latitude), d) >= ACT[target]]


@pytest.mark.parametrize(("target", "latitude", "months"), [
    ("blowfly-strike", "51.5", [4, 5, 6, 7, 8, 9, 10]),
    ("blowfly-strike", "54.3", [5, 6, 7, 8, 9]),
    ("blowfly-strike", "57.9", [6, 7, 8, 9]),
    ("ticks", "51.5", [3, 4, 5, 6, 9, 10]),
    ("ticks", "54.3", [3, 4, 5, 6, 9, 10]),
    ("ticks", "57.9", [4, 5, 6, 8, 9]),
    ("head-fly", "51.5", [6, 7, 8, 9]),
    ("head-fly", "57.9", [7, 8]),
    ("lice", "54.3", [1, 2, 3, 12]),
    ("scab", "54.3", [1, 2, 3, 11, 12]),
])  # fmt: skip
def test_months_at_risk_in_the_north(target: Target, latitude: str, months: list[int]) -> None:
    assert months_at_risk(target, latitude) == months


@pytest.mark.parametrize("target", TARGETS)
def test_the_south_is_the_north_shifted_by_six_months(target: Target) -> None:
    for month in range(1, 13):
        north = default_level(target, Decimal("44.2"), date(2027, month, 1))
        south = default_level(target, Decimal("-44.2"), date(2027, (month + 5) % 12 + 1, 28))
        assert south == north


def test_a_band_holds_its_upper_latitude() -> None:
    april = date(2027, 4, 30)
    assert default_level("blowfly-strike", Decimal(53), april) == Decimal("0.30")
    assert default_level("blowfly-strike", Decimal("53.0001"), april) == Decimal("0.10")


def test_every_latitude_has_levels() -> None:
    for target in TARGETS:
        for latitude in ("-90", "-34.9", "0", "35", "90"):
            assert 0 <= default_level(target, Decimal(latitude), date(2028, 2, 29)) <= 1
