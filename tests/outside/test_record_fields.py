"""What the law wants in the keeper's medicine record: each field that is a column of ours is asked for by the rule.

Sources, each on a stored page: Veterinary Medicines Regulations 2013, Part 3, regulation 19(2), text of 1 October 2013;
Regulation (EU) 2019/6 Article 108(2).
"""

import pytest

from scheduler.facts import country_facts
from tests.outside.tables import rows

TABLE = rows("record_fields.csv")
CODES = {"UK": ("GB", "GB-ENG", "GB-SCT", "GB-WLS"), "EU": ("IE", "FR")}
IN_WORDS = {"prescribing vet where there is one": "vet", "withdrawal even if zero": "withdrawal", "withdrawal":
            "withdrawal", "duration of treatment": "duration"}  # fmt: skip
"""Fields without a column, with the word by which the keeper is told of them."""


@pytest.mark.parametrize(("place", "code"), [(place, code) for place, codes in CODES.items() for code in codes])
def test_every_field_of_the_law_is_a_column_or_told_in_words(place: str, code: str) -> None:
    law = country_facts(code)
    assert law is not None
    for row in TABLE:
        if row["jurisdiction"] == place and row["column"]:
            assert row["column"] in law.record_fields.columns
        elif row["jurisdiction"] == place:
            assert IN_WORDS[row["asks_for"]] in law.record_fields.text


def test_the_table_has_fields_of_both_laws_in_columns_and_in_words() -> None:
    kinds = {(row["jurisdiction"], bool(row["column"])) for row in TABLE}
    assert kinds == {("UK", True), ("UK", False), ("EU", True), ("EU", False)}
