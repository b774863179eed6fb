"""Least withdrawal of a dose outside the label.

Sources: Regulation (EU) 2019/6 Article 115(1) (factor and milk minimum on a stored page; rounding up from memory);
Veterinary Medicines Regulations 2013, Schedule 4 paragraph 2(3) as amended 2024 (milk, stored page); "Guide to using
these tables", National Office of Animal Health compendium (meat in Great Britain, 1.5 times, stored page). That
Northern Ireland follows the union's rule is from memory.
"""

import pytest

from scheduler.facts import CountryFacts, country_facts
from tests.outside.tables import Row, rows

STATED = [row for row in rows("off_label_minima.csv") if row["case"].startswith("authorised for")]
MEAT = [row for row in STATED if row["food"] == "meat"]
MILK = [row for row in STATED if row["food"] == "milk"]
ZERO_MILK = [row for row in rows("off_label_minima.csv") if row["case"] in {"zero label", "zero-hour label"}]
UNION, BRITAIN = ["IE", "FR", "EU"], ["GB", "GB-ENG", "GB-SCT", "GB-WLS"]
PLACES = {"EU": UNION, "GB": BRITAIN}


def law(code: str) -> CountryFacts:
    """Facts of a country that has them."""
    found = country_facts(code)
    assert found is not None
    return found


@pytest.mark.parametrize("code", [*UNION, *BRITAIN, "GB-NIR"])
@pytest.mark.parametrize("row", MEAT, ids=lambda row: f"{row['longest_label_wp_days']} days")
def test_meat_is_one_and_a_half_times_the_label_rounded_up(row: Row, code: str) -> None:
    assert law(code).off_label_meat_days(int(row["longest_label_wp_days"])) == int(row["minimum_days"])


@pytest.mark.parametrize("row", MILK, ids=lambda row: f"{row['longest_label_wp_days']} days")
def test_milk_is_one_and_a_half_times_the_label_rounded_up(row: Row) -> None:
    for code in [*PLACES[row["jurisdiction"]], "GB-NIR"]:
        assert law(code).off_label_milk_days(int(row["longest_label_wp_days"])) == int(row["minimum_days"])


@pytest.mark.parametrize("row", ZERO_MILK, ids=lambda row: row["jurisdiction"])
def test_milk_of_a_zero_day_label_is_at_least_a_day(row: Row) -> None:
    for code in PLACES[row["jurisdiction"]]:
        assert law(code).off_label_milk_days(0) == int(row["minimum_days"])


def test_the_table_gave_rows_for_every_check() -> None:
    assert (len(MEAT), len(MILK), len(ZERO_MILK)) == (12, 4, 2)
