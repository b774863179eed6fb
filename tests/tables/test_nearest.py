"""The nearest known name of a wrong one."""

import pytest

from scheduler.tables import nearest


@pytest.mark.parametrize(
    ("wrong", "near"),
    [("tick", "ticks"), ("Ticks", "ticks"), ("LICE", "lice"), ("headfly", "head-fly"), ("worms", None), ("", None)],
)
def test_a_slip_of_the_pen_finds_its_name(wrong: str, near: str | None) -> None:
    assert nearest(wrong, ("ticks", "lice", "head-fly")) == near
