"""The worked withdrawal figures again, by the rules of sales: sold on the clear day is lawful, the day before is not.

Sources: those of `test_withdrawal_days`, `test_organic_withdrawal` and `test_off_label_minima`, named there: a worked
example of a medicines agency (stored page) and arithmetic on it, the union's organic rule, the law's off-label minima.
"""

from collections.abc import Iterable
from datetime import date, timedelta

import pytest

from scheduler.farm import Direction
from scheduler.rules import RULES, breaches, with_directions
from scheduler.season import Dose, Doses, Season
from scheduler.words import Where
from tests.outside.tables import Row, rows
from tests.plan.flock import dose, farm, label, may, prevent, sale, settings

DAY = timedelta(days=1)
SALES = [rule for rule in RULES if rule.family == "sales" and rule.severity == "stop"]
PLAIN = [row for row in rows("withdrawal_examples.csv") if row["reading"] == "full_days_after"]
ORGANIC = [row for row in rows("organic_withdrawal.csv") if row["scope"] == "EU"]
OFF_LABEL = [
    row for row in rows("off_label_minima.csv") if row["food"] == "meat" and row["case"].startswith("authorised")
]


def broken(season: Season, given: Dose) -> set[str]:
    """The stop rules of sales that one dose breaks."""
    found: Iterable[str] = (one.rule for one in breaches(season, with_directions(season, Doses([given])), SALES))
    return set(found)


def sold(days: int, last: date, on: date, **changed: object) -> set[str]:
    """What a dose of a label of so many days for meat breaks before a sale for slaughter."""
    season = Season(farm(labels={"fly": label(meat=days)}, sales=(sale(on),), **changed), last)
    return broken(season, dose(season, last))


@pytest.mark.parametrize("row", PLAIN, ids=lambda row: f"{row['wp_days']} days from {row['last_dose']}")
def test_meat_withdrawal_ends_on_the_day_of_the_table(row: Row) -> None:
    last, clear = date.fromisoformat(row["last_dose"]), date.fromisoformat(row["first_clear"])
    assert sold(int(row["wp_days"]), last, clear) == set()
    if clear - DAY > last:
        assert sold(int(row["wp_days"]), last, clear - DAY) == {"meat-withdrawal"}


@pytest.mark.parametrize("row", ORGANIC, ids=lambda row: f"{row['label_wp_days']} days")
def test_organic_withdrawal_ends_after_the_days_of_the_table(row: Row) -> None:
    clear = may(10) + timedelta(days=int(row["organic_days"]) + 1)
    organic = settings(country="IE", organic=True)
    assert sold(int(row["label_wp_days"]), may(10), clear, settings=organic) == set()
    assert sold(int(row["label_wp_days"]), may(10), clear - DAY, settings=organic) == {"organic-withdrawal"}


@pytest.mark.parametrize("row", OFF_LABEL, ids=lambda row: f"{row['jurisdiction']} {row['longest_label_wp_days']} days")
def test_an_off_label_dose_is_clear_after_the_least_days_of_the_table(row: Row) -> None:
    stated, least = int(row["longest_label_wp_days"]), int(row["minimum_days"])
    clear = may(10) + timedelta(days=least + 1)
    for_lambs = label(meat=stated, uses=(prevent(kinds=("lamb",)),), countries=None)
    written = Direction(
        label="fly", use="guard", groups=("Ewes",), sets_aside=("use-on-label",), signed=may(1), until=may(20),
        meat_days=stated, vet="A vet (invented)", where=Where("directions.csv", 2),
    )  # fmt: skip
    country = settings(country={"EU": "IE"}.get(row["jurisdiction"], row["jurisdiction"]))
    found = []
    for on in (clear - DAY, clear):
        asked = farm(labels={"fly": for_lambs}, sales=(sale(on),), directions=(written,), settings=country)
        season = Season(asked, may(10))
        found.append(broken(season, dose(season, may(10), origin="wish")))
    assert found == [{"off-label-withdrawal"}, set()]


def test_every_table_gave_rows() -> None:
    assert (len(PLAIN), len(OFF_LABEL)) == (15, 12)
    assert len(ORGANIC) > 5
