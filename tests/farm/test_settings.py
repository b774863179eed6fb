"""farm.toml: defaults, closed days, durations, codes."""

import tomllib
from datetime import date
from decimal import Decimal

import pytest

from scheduler.farm import Settings, minor_decimals
from scheduler.words import package_text
from tests.farm.lawful import LAWFUL, farm, faults


def settings(*lines: str) -> Settings:
    """The settings with more lines at the foot of farm.toml."""
    return farm({"farm.toml": LAWFUL["farm.toml"] + "\n".join(lines)}).settings


def closed(*entries: str) -> frozenset[date]:
    """The days that the entries close, from the season's start to its end."""
    listed = ", ".join(f'"{entry}"' for entry in entries)
    read = settings("[work]", f"closed = [{listed}]")
    return frozenset(day for one in read.closed for day in one.days if read.start <= day <= read.end)


def test_what_is_left_out_has_the_defaults_of_the_contract() -> None:
    read = settings()
    assert (read.id, read.organic, read.caution, read.lead_days) == ("Test farm (invented)", False, "high", 21)
    assert (read.gather_minutes, read.minutes_per_head, read.order_lead_days) == (Decimal(60), Decimal("0.5"), 5)
    assert (read.recheck_after_treatment, read.recheck_in_season, read.sale_margin_days) == (2, 7, 0)
    assert read.targets == ("blowfly-strike", "ticks", "head-fly")
    assert read.remind == ("-P6DT16H", "-PT6H")


def test_a_table_given_in_part_keeps_the_other_defaults() -> None:
    read = settings("[plan]", "act_level = { ticks = 0.45 }", "[plan.recheck_days]", "in_season = 5")
    assert (read.act_level["ticks"], read.act_level["scab"]) == (Decimal("0.45"), Decimal("0.5"))
    assert (read.recheck_in_season, read.recheck_after_treatment) == (5, 2)


def test_a_date_may_be_text_in_toml() -> None:
    text = LAWFUL["farm.toml"].replace("start = 2027-03-01", 'start = "2027-03-01"')
    assert farm({"farm.toml": text}).settings.start == date(2027, 3, 1)


@pytest.mark.parametrize(("end", "lawful"), [("2028-02-29", True), ("2028-03-01", False), ("2027-03-01", True)])
def test_a_season_has_at_most_366_days_both_ends_counted(end: str, lawful: bool) -> None:
    text = LAWFUL["farm.toml"].replace("2027-11-30", end)
    assert (faults({"farm.toml": text, "wishes.csv": "date,group,label,use\n"}) == []) is lawful


def test_single_days_are_closed() -> None:
    assert closed("2027-06-12", "2027-08-30") == {date(2027, 6, 12), date(2027, 8, 30)}


@pytest.mark.parametrize("text", ["every Sunday", "EVERY SUNDAY", "every  sunday"])
def test_a_weekday_is_closed_in_any_case(text: str) -> None:
    days = closed(text)
    assert len(days) == 39
    assert {day.isoweekday() for day in days} == {7}


def test_a_weekday_is_closed_before_the_season_too() -> None:
    read = settings("[work]", 'closed = ["every Sunday"]')
    assert date(2027, 2, 28) in read.closed[0].days


@pytest.mark.parametrize(
    ("rule", "first_days"),
    [
        ("FREQ=MONTHLY;BYDAY=1FR;COUNT=3", ["2027-03-05", "2027-04-02", "2027-05-07"]),
        ("FREQ=MONTHLY;BYDAY=-2MO;COUNT=2", ["2027-03-22", "2027-04-19"]),
        ("FREQ=MONTHLY;BYMONTHDAY=-3;COUNT=2", ["2027-03-29", "2027-04-28"]),
        ("FREQ=WEEKLY;INTERVAL=2;WKST=SU;BYDAY=TU;COUNT=2", ["2027-03-02", "2027-03-16"]),
        ("FREQ=DAILY;UNTIL=20270303", ["2027-03-01", "2027-03-02", "2027-03-03"]),
        ("RRULE:FREQ=YEARLY;BYMONTH=8;BYMONTHDAY=1", ["2027-08-01"]),
        ("freq=yearly;byweekno=20;byday=mo", ["2027-05-17"]),
    ],
)
def test_a_rule_closes_the_days_it_names_from_the_seasons_start(rule: str, first_days: list[str]) -> None:
    """The rules are shapes of RFC 5545, 3.8.5.3 (from memory); the days were counted by hand on a calendar of 2027."""
    assert sorted(day.isoformat() for day in closed(rule))[: len(first_days)] == first_days


@pytest.mark.parametrize("text", ["-P6DT16H", "-PT6H", "P1W", "-PT15M", "PT1H0M30S", "+P1D"])
def test_durations_of_calendars_are_read(text: str) -> None:
    """Forms of RFC 5545, 3.3.6 (from memory)."""
    assert settings("[calendar]", f'remind = ["{text}"]').remind == (text,)


@pytest.mark.parametrize("text", ["P1Y", "P1M", "PT1H30S", "P1W2D", "1H", "", "PT", "P1DT"])
def test_other_durations_are_refused(text: str) -> None:
    """RFC 5545, 3.3.6 has no years, months or gaps, and weeks stand alone (from memory)."""
    assert len(faults({"farm.toml": LAWFUL["farm.toml"] + f'[calendar]\nremind = ["{text}"]\n'})) == 1


@pytest.mark.parametrize("code", ["GB", "IE", "GB-SCT", "GB-NIR", "AU-VIC", "NZ"])
def test_countries_and_their_parts_are_read(code: str) -> None:
    """ISO 3166-1 and -2, as the reference library pycountry holds them."""
    assert farm({"farm.toml": LAWFUL["farm.toml"].replace('"GB"', f'"{code}"')}).settings.country == code


@pytest.mark.parametrize(("code", "decimals"), [("GBP", 2), ("EUR", 2), ("JPY", 0), ("ISK", 0), ("KWD", 3), ("CLF", 4)])
def test_minor_units_of_currencies(code: str, decimals: int) -> None:
    """ISO 4217, from memory."""
    assert minor_decimals(code) == decimals


def test_every_currency_with_other_decimals_is_one_of_iso_4217() -> None:
    """Against the list of the reference library pycountry."""
    import pycountry

    table = tomllib.loads(package_text("scheduler.farm", "currencies.toml"))
    named = [code for codes in table["decimals"].values() for code in codes] + table["no_money"]["codes"]
    assert len(set(named)) == len(named)
    assert set(named) <= {currency.alpha_3 for currency in pycountry.currencies}
