"""Figures unlike those printed for the active are doubted, with where they were seen; a doubt is all it is."""

import pytest
from msgspec.structs import replace

from scheduler.facts import facts, label_ranges
from scheduler.labels import Days, Label, Pack, doubts_of
from scheduler.words import FORMS, Where
from tests.labels.test_dosing import TWO, kg

LABEL = Label(
    id="pour",
    name="Demo pour-on (invented)",
    active="Dicyclanil ",
    chemical_group="insect growth regulator",
    form="pour-on",
    meat=40,
    milk="not-permitted",
    packs=(Pack(ml=kg("1000"), price=kg("50")),),
    uses=(replace(TWO, purpose="prevent", protects_days=(98, 112)),),
    where=Where("labels/pour.toml"),
)


def test_usual_figures_raise_no_doubt() -> None:
    assert doubts_of(LABEL) == ()


@pytest.mark.parametrize(("meat", "doubted"), [(6, True), (7, False), (40, False), (41, True), (None, False)])
def test_a_meat_withdrawal_outside_what_was_printed_is_doubted(meat: Days, doubted: bool) -> None:
    """Printed for dicyclanil pour-ons: 7 and 40 days (data/label_ranges_by_active.csv in tests/outside)."""
    assert bool(doubts_of(replace(LABEL, meat=meat))) is doubted


def test_a_doubt_names_figure_range_and_source() -> None:
    (doubt,) = doubts_of(replace(LABEL, meat=4))
    assert doubt.startswith(
        "meat withdrawal: 4 days, where leaflets of the same active were seen to state 7 to 40 days ("
    )
    assert "dicyclanil" in doubt


def test_milk_in_days_is_doubted_where_leaflets_do_not_permit_it() -> None:
    (doubt,) = doubts_of(replace(LABEL, milk=5))
    assert (
        "milk withdrawal: 5 days, where leaflets of the same active were seen to state that it is not permitted"
        in doubt
    )


def test_a_protection_longer_than_any_printed_is_doubted() -> None:
    (doubt,) = doubts_of(replace(LABEL, uses=(replace(LABEL.uses[0], protects_days=(98, 140)),)))
    assert doubt.startswith("guard, longest protection: 140 days")


def test_an_active_that_is_not_known_is_said_to_be_unknown() -> None:
    (doubt,) = doubts_of(replace(LABEL, active="fipronil"))
    assert "No printed figures of fipronil" in doubt


def test_every_range_has_a_known_source_a_form_and_an_order() -> None:
    for row in label_ranges():
        assert row.source in facts().sources
        assert row.form in FORMS
        assert row.figure in {"meat", "milk", "protects"}
        assert row.not_permitted or (row.least is not None and row.most is not None and row.least <= row.most)
