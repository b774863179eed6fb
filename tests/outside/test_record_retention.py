"""How long the medicine record is kept.

Sources, each on a stored page: "Keeping veterinary medicine records" (Trading Standards advice, England and Wales);
"Veterinary medicine records" (DAERA, 2022); "Records and inspections: sheep" (Small Producers Scotland, 2024);
Regulation (EU) 2019/6 Article 108(5); bookkeeping form for production animals (Finland). The table also holds shorter
periods that are not the keeper's medicine record; ours is never shorter than any of them.
"""

import pytest

from scheduler.facts import country_facts, facts
from tests.outside.tables import rows

TABLE = rows("record_retention.csv")
KEEPERS = {
    ("England and Wales", "medicine record"): ["GB", "GB-ENG", "GB-WLS"],
    ("Northern Ireland", "medicine record"): ["GB-NIR"],
    ("Scotland", "medicine record of sheep farmed for food"): ["GB-SCT"],
    ("EU", "owner or keeper record"): ["EU", "IE", "DE"],
    ("Finland", "medicine and medicated-feed bookkeeping"): ["FI"],
}


@pytest.mark.parametrize("place", KEEPERS, ids=lambda place: place[0])
def test_a_keepers_record_is_kept_for_the_years_of_the_law(place: tuple[str, str]) -> None:
    (row,) = [row for row in TABLE if (row["jurisdiction"], row["record"]) == place]
    for code in KEEPERS[place]:
        law = country_facts(code)
        assert law is not None
        assert law.record_years is not None
        assert law.record_years.whole == int(row["period"])


def test_without_a_known_law_the_longest_keepers_period_is_used() -> None:
    (row,) = [row for row in TABLE if row["record"] == "product safe default"]
    assert facts().figures.record_years.whole == int(row["period"])
    assert facts().figures.record_years.whole == max(int(row["period"]) for row in TABLE)
