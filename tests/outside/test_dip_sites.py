"""How far from water sheep are dipped, what is asked after, and who may move scabby sheep.

Sources, each on a stored page: groundwater protection code for sheep dip (Environment Agency, England, 2023); sheep dip
rules (NetRegs, Scotland); best practice on spent dip (quoting Teagasc, Ireland, 2024); summaries of two pour-ons (UK);
Sheep Scab (Scotland) Order 2010.
"""

import pytest

from scheduler.facts import CountryFacts, country_facts, facts
from tests.outside.tables import Row, rows

TABLE = rows("dip_sites.csv")
SITES = [row for row in TABLE if row["topic"] == "dip site"]
IN_WORDS = [row for row in TABLE if row["topic"] in {"dip bath", "dip permit", "after dipping"}]
WRITTEN = {"4": "four", "10-15": "10 to 15"}


def law(code: str) -> CountryFacts:
    """Facts of a country that has them."""
    found = country_facts(code)
    assert found is not None
    return found


@pytest.mark.parametrize("row", SITES, ids=lambda row: f"{row['jurisdiction']} {row['rule']}")
def test_a_place_for_dipping_is_so_far_from_water(row: Row) -> None:
    here, rule = law(row["jurisdiction"]), row["rule"]
    stated = [here.dip_watercourse_m] if "watercourse" in rule else [here.dip_well_m]
    if "any water" in rule:
        stated = [here.dip_watercourse_m, here.dip_well_m]
    assert [fact.value for fact in stated if fact is not None] == [int(row["value"])] * len(stated)


@pytest.mark.parametrize("row", IN_WORDS, ids=lambda row: f"{row['jurisdiction']} {row['rule']}")
def test_what_is_asked_of_used_dip_and_dipped_sheep_has_the_figure_of_its_source(row: Row) -> None:
    stated = law(row["jurisdiction"]).dip_water
    assert f"{WRITTEN.get(row['value'], row['value'])} {row['unit']}" in stated.text
    assert stated.seen == row["seen"]


def test_treated_sheep_stay_off_water_as_long_as_the_summaries_say() -> None:
    (row,) = [row for row in TABLE if row["topic"] == "after pour-on"]
    assert facts().figures.pour_on_water_hours.value == int(row["value"])


def test_only_where_the_order_was_read_the_law_is_said_to_forbid_moving_scabby_sheep() -> None:
    read = {row["jurisdiction"] for row in TABLE if row["topic"] == "scab"}
    assert {code for code, country in facts().countries.items() if country.scab_movement.forbidden} == read
