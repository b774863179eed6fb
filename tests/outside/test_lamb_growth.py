"""The reckoned weights of lambs hold every flock average that was printed: nothing is under-dosed, no repeat missed.

Sources (stored pages): Teagasc, lamb performance from birth to 7 weeks, 26 May 2020, table 1, and its hard-spring
table; Muir, Smith & Lane, Proceedings of the New Zealand Grassland Association (abstract). The birth weights and
growth factors that are held here are our own, without a source.
"""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from scheduler.farm import Farm, Group, Settings
from scheduler.season.weights import Weight, Weights
from scheduler.words import Where
from tests.outside.tables import Row, rows

TABLE = rows("lamb_growth.csv")
BORN = date(2027, 3, 1)
SETTINGS = Settings(
    name="Any (invented)", id="any",
    country="GB", timezone="Europe/London", latitude=Decimal(54), longitude=Decimal(-2),
    start=date(2027, 3, 1), end=date(2027, 11, 30), currency="GBP", act_level={},
)  # fmt: skip


def weights_at(row: Row, age_days: float) -> Weight:
    """What is reckoned for lambs of a flock's average gain at an age, never weighed, all born on a day."""
    lambs = Group(
        name="Lambs", kind="lamb", head=1, mob="Lambs", born_first=BORN, born_last=BORN,
        growth_kg_per_day=Decimal(row["gain_g_day"]) / 1000, where=Where("groups.csv", 2),
    )  # fmt: skip
    return Weights(Farm(settings=SETTINGS, groups=(lambs,))).on("Lambs", BORN + timedelta(days=int(age_days)))


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row['flock']}, {row['birth_type']}")
def test_the_printed_average_lies_between_lightest_and_heaviest(row: Row) -> None:
    weight = weights_at(row, int(row["age_days"]))
    assert weight.lightest is not None
    assert weight.heaviest is not None
    assert weight.lightest < Decimal(row["weight_low"] or row["weight_kg"])
    assert Decimal(row["weight_high"] or row["weight_kg"]) < weight.heaviest


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row['flock']}, {row['birth_type']}")
def test_when_the_average_reaches_10_kg_the_lightest_still_counts_as_under_it(row: Row) -> None:
    weight = weights_at(row, float(row["age_at_10kg_days_derived"]))
    assert weight.lightest is not None
    assert weight.lightest < 10
