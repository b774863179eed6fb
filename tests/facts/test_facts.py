"""Every fact has a unit, a source that is listed, and says how it was seen; countries resolve as the law does."""

from typing import get_args

import pytest

from scheduler.facts import Figures, Seen, country_facts, facts
from scheduler.words import Form

EU_MEMBERS = 27


def test_every_figure_has_a_unit_a_known_source_and_how_it_was_seen() -> None:
    for name in Figures.__struct_fields__:
        fact = getattr(facts().figures, name)
        assert fact.unit
        assert fact.source in facts().sources
        assert fact.seen in get_args(Seen)


def test_every_source_says_where_it_was_read_or_that_it_was_not() -> None:
    for source in facts().sources.values():
        assert source.title
        assert source.publisher
        assert (source.read is not None) == (source.seen in {"stored page", "derived"})


def test_every_law_of_a_country_has_a_known_source() -> None:
    for country in facts().countries.values():
        laws = [getattr(country, name) for name in country.__struct_fields__ if name not in {"code", "name"}]
        assert {law.source for law in laws if law is not None} <= facts().sources.keys()
        assert {law.seen for law in laws if law is not None} <= set(get_args(Seen))


def test_every_caution_names_known_sources_and_is_one_sentence_or_two() -> None:
    for caution in facts().cautions:
        assert caution.sources
        assert set(caution.sources) <= facts().sources.keys()
        assert caution.text.endswith(".")


def test_every_form_of_medicine_has_its_kit() -> None:
    day = facts().work_day
    assert set(day.kits) == set(get_args(Form))
    assert 0 < day.load_allowance.value < 100
    for kit in (day.every_form, *day.kits.values()):
        assert kit.kit
        assert kit.source in facts().sources
        assert kit.seen in get_args(Seen)


def test_every_risk_table_has_twelve_levels_at_two_decimals_and_its_source() -> None:
    for table in facts().risk:
        assert len(table.levels) == 12
        assert all(0 <= level <= 1 and round(level, 2) == level for level in table.levels)
        assert (table.source, table.seen) == ("common-practice", "common practice, no source")


@pytest.mark.parametrize(("code", "name"), [
    ("GB", "Great Britain"),
    ("GB-ENG", "England"),
    ("GB-WLS", "Great Britain"),
    ("GB-SCT", "Scotland"),
    ("GB-NIR", "Northern Ireland"),
    ("IE", "Ireland"),
    ("IE-D", "Ireland"),
    ("FR", "European Union"),
    ("AU-VIC", "Australia"),
    ("NZ", "New Zealand"),
])  # fmt: skip
def test_a_part_uses_its_own_facts_or_its_countrys(code: str, name: str) -> None:
    found = country_facts(code)
    assert found is not None
    assert found.name == name


@pytest.mark.parametrize("code", ["CH", "US-VT", ""])
def test_a_country_without_facts_is_none(code: str) -> None:
    assert country_facts(code) is None


def test_the_union_has_all_its_members() -> None:
    union = country_facts("EU")
    assert union is not None
    members = [
        code
        for code, country in facts().countries.items()
        if country.off_label_meat_factor == union.off_label_meat_factor
    ]
    assert len(set(members) - {"EU"}) == EU_MEMBERS


def test_only_scotland_is_known_to_forbid_moving_scabby_sheep() -> None:
    forbidden = {code for code, country in facts().countries.items() if country.scab_movement.forbidden}
    assert forbidden == {"GB-SCT"}


def test_northern_ireland_rests_on_union_law_from_memory() -> None:
    found = country_facts("GB-NIR")
    assert found is not None
    assert found.off_label_meat_factor is not None
    assert found.off_label_meat_factor.source == "eu-2019-6-art115"
    assert found.off_label_meat_factor.seen == "from memory"


@pytest.mark.parametrize("code", ["AU", "NZ-CAN"])
def test_where_the_least_withdrawal_off_the_label_is_not_known_none_is_added(code: str) -> None:
    found = country_facts(code)
    assert found is not None
    assert (found.off_label_meat_days(5), found.off_label_milk_days(0)) == (0, 0)


def test_law_from_memory_says_so() -> None:
    for country in facts().countries.values():
        for law in (country.store_sale, country.dip_competence, country.dip_water, country.organic):
            assert ("From memory" in law.said) == (law.seen == "from memory")
            assert law.text.endswith(".")


def test_cautions_for_a_dip_hold_the_usual_ones_and_the_dips_own() -> None:
    ids = {caution.id for caution in facts().cautions_for("dip")}
    assert {"label-first", "vet-and-law", "dip-certificate", "dip-water"} <= ids
    assert "injection-needles" not in ids
