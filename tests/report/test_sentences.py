"""Days, money and amounts in words."""

from datetime import date
from decimal import Decimal

import pytest
from msgspec.structs import replace

from scheduler.report import (
    cohort_words,
    count_text,
    days_words,
    headline,
    list_text,
    money_text,
    number_text,
    span_text,
    weekday_text,
)
from tests.outputs.plans import rich_report


@pytest.mark.parametrize(
    ("minor", "currency", "exponent", "text"),
    [
        (6150, "GBP", 2, "GBP 61.50"),
        (0, "GBP", 2, "GBP 0.00"),
        (-5, "EUR", 2, "-EUR 0.05"),
        (106150, "GBP", 2, "GBP 1,061.50"),
        (1061, "JPY", 0, "JPY 1,061"),
        (1061, "KWD", 3, "KWD 1.061"),
    ],
)
def test_money_stands_with_its_code_and_minor_unit(minor: int, currency: str, exponent: int, text: str) -> None:
    assert money_text(minor, currency, exponent) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Decimal("22.40"), "22.4"),
        (Decimal("3420"), "3,420"),
        (Decimal("1E+3"), "1,000"),
        (100, "100"),
        (Decimal(0), "0"),
    ],
)
def test_numbers_carry_no_idle_zeros(value: Decimal | int, text: str) -> None:
    assert number_text(value) == text


@pytest.mark.parametrize(
    ("first", "last", "text"),
    [
        (date(2027, 8, 3), date(2027, 8, 3), "3 Aug"),
        (date(2027, 8, 3), date(2027, 8, 9), "3 to 9 Aug"),
        (date(2027, 8, 3), date(2027, 9, 9), "3 Aug to 9 Sep"),
        (date(2027, 12, 3), date(2028, 1, 9), "3 Dec 2027 to 9 Jan 2028"),
    ],
)
def test_spans_say_no_more_than_they_need(first: date, last: date, text: str) -> None:
    assert span_text(first, last) == text


def test_the_weekday_is_the_calendars() -> None:
    assert weekday_text(date(2027, 8, 21)) == "Sat 21 Aug 2027"  # as date.isoweekday says: 6


def test_one_is_not_many() -> None:
    assert count_text(1, "handling", "handlings") == "1 handling"
    assert count_text(1140, "sheep-day", "sheep-days") == "1,140 sheep-days"


def test_lists_end_in_and() -> None:
    assert [list_text(items) for items in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == [
        "",
        "a",
        "a and b",
        "a, b and c",
    ]


def test_a_withdrawal_is_said_as_it_is_filed() -> None:
    assert [days_words(days) for days in (None, "not-permitted", 0, 1, 8)] == [
        "not stated", "not permitted", "0 days", "1 day", "8 days",
    ]  # fmt: skip


def test_every_headline_begins_with_what_to_do() -> None:
    told = rich_report()
    lines = {headline(told, task) for task in told.plan.tasks}
    for start in (
        "Dose Ewes, 180 head: 10.5 ml a head of Demo tick dip (invented)",
        "Repeat dose Top lambs, 60 head (for Autumn draft): 10.5 ml a head",
        "Look over Ewes; Top lambs",
        "Look over Ewes, 180 head",
        "Clear date of Top lambs, 60 head (for Autumn draft): meat withdrawal of Demo hill pour on (invented) is over",
        "Prepare for Hill: Demo hill pour on (invented)",
        "Order Demo hill pour on (invented)",
        "Sell Top lambs, 60 head: Autumn draft",
        "Watch for blowfly strike: its season opens",
    ):
        assert any(line.startswith(start) for line in lines), start


def test_a_label_that_the_farm_no_longer_has_is_called_by_its_file() -> None:
    told = replace(rich_report(), labels=())
    assert headline(told, told.plan.tasks[0]).endswith("of tick-dip")


def test_a_part_of_a_group_is_named_only_where_there_are_several() -> None:
    told = rich_report()
    ewes, drafts, keepers = told.plan.cohorts
    assert [cohort_words(ewes, False), cohort_words(drafts, True), cohort_words(keepers, True)] == [
        "", "for Autumn draft", "those that stay",
    ]  # fmt: skip
    found = replace(keepers, id="Top lambs/found-4/Autumn draft", sale="Autumn draft")
    assert cohort_words(found, True) == "found apart, for Autumn draft"
    assert cohort_words(replace(found, sale=None), True) == "found apart"
