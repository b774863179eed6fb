"""Withdrawal on an organic farm: twice the label's, and never under 48 hours.

Source: Official Journal C 126 of 21 March 2022 on Regulation (EU) 2018/848, Annex II Part II 1.5.2.5 (rule on a stored
page, the worked figures derived from it); the 48 hours also in a Swedish private standard, 16.8.1 (stored page).
"""

import pytest

from scheduler.facts import facts
from tests.outside.tables import Row, rows

TABLE = rows("organic_withdrawal.csv")


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row['label_wp_days']} days, {row['scope']}")
def test_organic_withdrawal_is_doubled_and_at_least_two_days(row: Row) -> None:
    assert facts().figures.organic_days(int(row["label_wp_days"])) == int(row["organic_days"])


def test_the_table_holds_the_zero_day_label_twice() -> None:
    assert [row["label_wp_days"] for row in TABLE].count("0") == 2
