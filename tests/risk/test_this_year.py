"""This year so far: early where it is warm, and relied on only where that made past years better known."""

from datetime import date

import numpy as np
import pytest

from scheduler.risk.this_year import days_early, moved
from tests.risk.climates import risk_of, year_of, years_of

TEN = [0.0, 1.5, -1.0, 0.5, -0.5, 2.0, 1.0, -1.5, 0.2, -0.2]
SO_FAR = 110


@pytest.mark.parametrize(("warmer", "sign"), [(1.5, 1), (0.1, 0), (-1.5, -1)])
def test_a_warm_spring_is_early_and_a_cold_one_late(warmer: float, sign: int) -> None:
    now = risk_of((*years_of(TEN), *year_of(date(2027, 1, 1), warmer, SO_FAR))).of("blowfly-strike")
    assert now is not None
    assert now.this_year is not None
    assert np.sign(now.this_year.days_early) == sign
    assert now.this_year.through == date(2027, 4, 20)


def test_where_a_year_keeps_its_warmth_the_plan_moves_with_it() -> None:
    """Each of these years is warm or cold throughout, so its spring foretells its start."""
    before, after = (risk_of((*years_of(TEN), *so_far)).of("blowfly-strike")
                     for so_far in ((), year_of(date(2027, 1, 1), 1.5, SO_FAR)))  # fmt: skip
    assert before is not None
    assert after is not None
    now = after.this_year
    assert now is not None
    assert now.error_days is not None
    assert now.plain_error_days is not None
    assert now.error_days < now.plain_error_days
    assert now.days_moved == now.days_early > 0
    opens = [int(np.argmax(outlook.planned >= 6)) for outlook in (before, after)]
    assert opens[0] - opens[1] == now.days_moved


def test_few_years_move_nothing() -> None:
    found = risk_of((*years_of(TEN[:4]), *year_of(date(2027, 1, 1), 1.5, SO_FAR))).of("blowfly-strike")
    assert found is not None
    assert found.this_year is not None
    assert found.this_year.days_early > 0
    assert found.this_year.days_moved == 0


def test_spring_that_says_nothing_of_summer_moves_nothing() -> None:
    """Warm springs are followed by cold Mays, and the other way: the reckoning misses, and is not used."""
    cut = date(2010, 4, 21).timetuple().tm_yday
    weather = [
        day
        for n, warmer in enumerate(TEN)
        for day in (*year_of(date(2010 + n, 1, 1), warmer, 365)[: cut - 1],
                    *year_of(date(2010 + n, 1, 1), -2 * warmer, 366 if (2010 + n) % 4 == 0 else 365)[cut - 1 :])
    ]  # fmt: skip
    found = risk_of((*weather, *year_of(date(2027, 1, 1), 1.5, SO_FAR))).of("blowfly-strike")
    assert found is not None
    assert found.this_year is not None
    assert found.this_year.days_early > 0
    assert found.this_year.days_moved == 0


@pytest.mark.parametrize(
    ("own", "early"), [(0.0, 0), (3.0, 1), (6.0, 2), (1.0, -1), (2.0, 0), (99.0, 3), (4.0, 1), (5.5, 2)]
)
def test_days_early_by_hand(own: float, early: int) -> None:
    """The median year has built up 0 0 0 1 2 3 6 7 on its days 0 to 7; today is day 4."""
    median = np.array([0.0, 0.0, 0.0, 1.0, 2.0, 3.0, 6.0, 7.0])
    assert days_early(median, own, 4 if own else 1) == early


@pytest.mark.parametrize(("days", "levels"), [
    (0, [0, 1, 3, 5, 4, 0]), (1, [1, 3, 5, 5, 4, 0]), (2, [3, 5, 5, 5, 4, 0]), (-1, [0, 0, 1, 3, 4, 0]),
])  # fmt: skip
def test_only_the_rise_is_moved(days: int, levels: list[int]) -> None:
    assert moved(np.array([0, 1, 3, 5, 4, 0]), days).tolist() == levels
