"""Every calendar that is written keeps RFC 5545 and RFC 7986 to the byte; a checker of our own, apart from the writer.

Rules, sections, and how each was seen: data/rules.csv. What no standard asks for, but the calendar promises, is below.
"""

import csv
from datetime import UTC, date, datetime, timedelta
from functools import cache
from pathlib import Path

import pytest

from scheduler.outputs import Notice, calendar_files, feed_ics
from tests.calendar.octets import Component, Property, tree
from tests.calendar.plans import Written, random_farms, samples
from tests.calendar.seeds import SEEDS, Seed
from tests.calendar.standard import faults_of
from tests.calendar.test_round_trip import LIVES, life
from tests.calendar.values import day_of, span_of

RULES = Path(__file__).parent / "data" / "rules.csv"


@cache
def sample(name: str) -> Written:
    """One of the sample farms."""
    return next(one for one in samples() if one.name == name)


def events(calendar: bytes) -> list[Component]:
    """The events of a lawful calendar."""
    root, _ = tree(calendar)
    assert root is not None
    return root.components("VEVENT")


def one(event: Component, name: str) -> Property:
    """The property that an event has once."""
    (found,) = event.properties(name)
    return found


@pytest.mark.parametrize("name", [one.name for one in samples()])
def test_the_calendar_of_a_sample_farm_keeps_both_standards(name: str) -> None:
    assert faults_of(sample(name).calendar) == []


def test_the_calendars_of_200_random_farms_keep_both_standards() -> None:
    assert len(random_farms()) >= 200
    assert {farm.name: faults_of(farm.calendar) for farm in random_farms() if faults_of(farm.calendar)} == {}


@pytest.mark.parametrize(("family", "seed"), LIVES)
def test_calendars_of_plans_that_follow_one_another_keep_both_standards(family: str, seed: int) -> None:
    for step in life(family, seed):
        for parts in (calendar_files(step.report, "groups"), calendar_files(step.report, "kinds", ("dose", "sale"))):
            assert {name: faults_of(calendar) for name, calendar in parts.items() if faults_of(calendar)} == {}


def test_the_feed_keeps_both_standards_with_and_without_a_notice() -> None:
    notice = Notice("feed", date(2027, 3, 1), datetime(2027, 3, 1, 10, tzinfo=UTC), "The folder has a fault; mend it.")
    for farm in samples():
        assert faults_of(feed_ics(farm.calendar)) == faults_of(feed_ics(farm.calendar, notice)) == []


@pytest.mark.parametrize("seed", SEEDS, ids=lambda seed: seed.what)
def test_a_fault_that_is_sown_is_found(seed: Seed) -> None:
    lawful = sample("fellside").calendar
    assert seed.rule in {fault.rule for fault in faults_of(seed.sow(lawful))}


def test_every_rule_of_the_table_has_a_fault_that_it_finds() -> None:
    with RULES.open(encoding="utf-8") as file:
        rules = [row["rule"] for row in csv.DictReader(file)]
    assert {seed.rule for seed in SEEDS} == set(rules)
    assert len(rules) == len(set(rules))


@pytest.mark.parametrize("name", [one.name for one in samples()])
def test_an_event_is_one_day_long_and_leaves_it_free(name: str) -> None:
    for event in events(sample(name).calendar):
        first, after = (day_of(one(event, end).value) for end in ("DTSTART", "DTEND"))
        assert first is not None
        assert after == first + timedelta(days=1)
        assert one(event, "TRANSP").value == "TRANSPARENT"


@pytest.mark.parametrize("name", [one.name for one in samples()])
def test_alarms_ring_at_eight_a_week_before_and_at_six_the_evening_before(name: str) -> None:
    """Before local midnight of the day: RFC 5545, 3.8.6.3."""
    found = {one(alarm, "TRIGGER").value for event in events(sample(name).calendar) for alarm in event.components()}
    assert {span_of(value) for value in found} == {timedelta(days=-6, hours=-16), timedelta(hours=-6)}


def test_name_colour_and_method_are_left_to_the_client_and_no_link_leads_out() -> None:
    for farm in samples():
        root, _ = tree(farm.calendar)
        assert root is not None
        assert [one.name for one in root.properties()] == ["PRODID", "VERSION", "DESCRIPTION"]
        assert b"://" not in farm.calendar
        assert {one.name for event in events(farm.calendar) for one in event.properties()} <= {
            "UID", "DTSTAMP", "DTSTART", "DTEND", "SEQUENCE", "STATUS", "TRANSP", "CATEGORIES", "SUMMARY",
            "DESCRIPTION", "RELATED-TO",
        }  # fmt: skip


def test_a_repeat_is_related_to_its_first_dose_in_the_same_file() -> None:
    farm = sample("fellside")
    related = {one(event, "UID").value: one(event, "RELATED-TO").value
               for event in events(farm.calendar) if event.properties("RELATED-TO")}  # fmt: skip
    repeats = {task["uid"]: task["repeat_of"] for task in farm.plan["tasks"] if task["repeat_of"]}
    assert repeats
    assert related == repeats
    assert set(related.values()) <= {one(event, "UID").value for event in events(farm.calendar)}
