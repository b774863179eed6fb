"""All-day events stay on their day in every zone, alarms count from local midnight, and odd days are days like others.

Against: zoneinfo and dateutil (the zones of the IANA data, tzdata), the JavaScript engine of a phone in the zone named
in TZ, and dates worked out by hand. Clock changes named below: IANA tzdata, from memory.
"""

import json
import os
import subprocess
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from zoneinfo import ZoneInfo

import pytest
from dateutil import tz

from scheduler.outputs import calendar_ics, plan_json
from scheduler.plan import EarlierPlan, read_earlier
from scheduler.report import SeasonReport, cautions_of, report_of
from tests.calendar.readers import HERE, ROOT, by_ical_js, by_icalendar
from tests.calendar.standard import faults_of
from tests.cli.folder import FILES
from tests.properties.planning import farm_of, plan_of

PHONES = (
    "Europe/London",
    "Pacific/Auckland",
    "Pacific/Pago_Pago",
    "Pacific/Kiritimati",
    "Pacific/Apia",
    "Australia/Lord_Howe",
    "America/St_Johns",
    "America/Havana",
)
"""+0, +13 in summer, -11, +14, a zone that lost a day, one that changes by half an hour, one of half hours, and one
whose clock changes at midnight."""

ODD_ZONES = [(zone, "NZ") for zone in ("Pacific/Auckland", "Pacific/Pago_Pago", "Pacific/Kiritimati", "Pacific/Apia")]
ALARMS = (timedelta(days=-6, hours=-16), timedelta(hours=-6))
LONDON_CHANGES = (date(2027, 3, 28), date(2027, 10, 31))
SAMOA_LOST = date(2011, 12, 30)
LEAP_DAY = date(2028, 2, 29)


@dataclass(frozen=True)
class Season:
    """A season, the day it is planned on, and days on which the keeper wishes to dose."""

    start: date
    end: date
    today: date
    wishes: tuple[date, ...]
    sold: date


OVER_THE_YEAR = Season(date(2027, 11, 1), date(2028, 3, 31), date(2027, 10, 20), (date(2027, 12, 31), LEAP_DAY),
                       date(2028, 3, 31))  # fmt: skip
CLOCKS = Season(date(2027, 3, 1), date(2027, 11, 15), date(2027, 2, 20), LONDON_CHANGES, date(2027, 11, 15))
LOST_DAY = Season(date(2011, 11, 1), date(2012, 2, 29), date(2011, 10, 20), (SAMOA_LOST,), date(2012, 2, 29))
SEASONS = {"over the year's end": OVER_THE_YEAR, "clock changes": CLOCKS, "the day that Samoa lost": LOST_DAY}


def farm_files(name: str, zone: str = "Europe/London", country: str = "GB") -> dict[str, str]:
    """A small farm in a zone, over one of the seasons, at risk for all of it."""
    season = SEASONS[name]
    toml = FILES["farm.toml"]
    for old, new in (
        ("Europe/London", zone),
        ('country = "GB"', f'country = "{country}"'),
        ("start = 2027-05-01", f"start = {season.start}"),
        ("end = 2027-07-31", f"end = {season.end}"),
    ):
        toml = toml.replace(old, new)
    return {
        **FILES,
        "farm.toml": toml,
        "labels/pour.toml": FILES["labels/pour.toml"].replace('countries = ["GB"]\n', ""),
        "groups.csv": "group,kind,head,heaviest_kg,lightest_kg\nEwes,ewe,100,75,55\n",
        "risk.csv": f"target,from,to,level\nblowfly-strike,{season.start},{season.end},0.6\n",
        "sales.csv": f"sale,group,head,date,purpose\nMart,Ewes,40,{season.sold},store\n",
        "wishes.csv": "date,group,label,use\n" + "".join(f"{day},Ewes,pour,guard\n" for day in season.wishes),
    }


@cache
def report(name: str, zone: str = "Europe/London", country: str = "GB") -> SeasonReport:
    """The plan of that farm."""
    files, today = farm_files(name, zone, country), SEASONS[name].today
    plan, farm = plan_of(files, today), farm_of(files, today)
    return report_of(plan, farm, cautions_of(plan, farm))


@cache
def on_a_phone(name: str, phone: str) -> list[dict[str, str]]:
    """The events as a phone in a zone shows them and rings for them, by its own clock."""
    by_ical_js([])
    command = ["node", str(HERE / "read_calendars.mjs")]
    texts = json.dumps([calendar_ics(report(name)).decode()])
    where = {**os.environ, "TZ": phone}
    done = subprocess.run(command, input=texts, capture_output=True, text=True, check=True, cwd=ROOT, env=where)
    return [event for _, event in json.loads(done.stdout)[0]]


@pytest.mark.parametrize("name", SEASONS)
@pytest.mark.parametrize("phone", PHONES)
def test_a_phone_in_any_zone_shows_each_event_on_its_day(name: str, phone: str) -> None:
    """The one day that Apia's calendar does not have is shown as the next one that it has."""
    events = on_a_phone(name, phone)
    assert len(events) > 20
    for event in events:
        lost = phone == "Pacific/Apia" and event["first"] == SAMOA_LOST.isoformat()
        assert event["shown"][:10] == ("2011-12-31" if lost else event["first"])


@pytest.mark.parametrize("name", ["over the year's end", "clock changes"])
@pytest.mark.parametrize("phone", PHONES)
def test_a_phone_in_any_zone_rings_at_eight_a_week_before_and_at_six_the_evening_before(name: str, phone: str) -> None:
    rung = 0
    for event in on_a_phone(name, phone):
        first = date.fromisoformat(event["first"])
        wanted = [f"{first - timedelta(days=7)} 08:00", f"{first - timedelta(days=1)} 18:00"]
        assert list(event["rings"]) in ([], wanted)
        rung += len(event["rings"])
    assert rung > 10


def instants(first: date, phone: str) -> list[datetime]:
    """When the alarms ring, as RFC 5545, 3.3.6 and 3.8.6.3 have it: days by the calendar, then hours exactly."""
    zone = tz.gettz(phone)
    found = []
    for alarm in ALARMS:
        whole_days = timedelta(days=int(alarm / timedelta(days=1)))
        midnight = tz.resolve_imaginary(datetime.combine(first + whole_days, time(), zone))
        found.append((midnight.astimezone(UTC) + (alarm - whole_days)).astimezone(ZoneInfo(phone)))
    return found


@pytest.mark.parametrize("phone", PHONES)
def test_reckoned_in_exact_hours_the_alarms_ring_by_the_same_clock_on_every_day_of_two_years(phone: str) -> None:
    """Clocks change between midnight and three: sixteen and six hours back from midnight no change is crossed."""
    for number in range(731):
        first = date(2027, 1, 1) + timedelta(days=number)
        week, evening = instants(first, phone)
        assert (week.date(), week.time()) == (first - timedelta(days=7), time(8)), first
        assert (evening.date(), evening.time()) == (first - timedelta(days=1), time(18)), first


def test_the_evening_before_samoas_lost_day_is_the_one_before_it() -> None:
    assert instants(SAMOA_LOST, "Pacific/Apia")[1].isoformat() == "2011-12-29T18:00:00-10:00"
    assert instants(date(2011, 12, 31), "Pacific/Apia")[1].date() in (date(2011, 12, 29), SAMOA_LOST)


@pytest.mark.parametrize("name", SEASONS)
@pytest.mark.parametrize(("zone", "country"), ODD_ZONES)
def test_the_zone_of_the_farm_moves_no_event(name: str, zone: str, country: str) -> None:
    """A farm at +13, -11 or +14, read anywhere: a day is a day."""
    here = by_icalendar(calendar_ics(report(name, "Pacific/Auckland", "NZ")))
    there = calendar_ics(report(name, zone, country))
    assert faults_of(there) == []
    assert by_icalendar(there) == here


@pytest.mark.parametrize(("name", "days"), [("over the year's end", (date(2027, 12, 31), LEAP_DAY)),
                                            ("clock changes", LONDON_CHANGES),
                                            ("the day that Samoa lost", (SAMOA_LOST,))])  # fmt: skip
def test_odd_days_are_worked_on_and_end_the_day_after(name: str, days: tuple[date, ...]) -> None:
    """The day after New Year's Eve, after 29 February, after each clock change and after the lost day."""
    after = {date(2027, 12, 31): date(2028, 1, 1), LEAP_DAY: date(2028, 3, 1), LONDON_CHANGES[0]: date(2027, 3, 29),
             LONDON_CHANGES[1]: date(2027, 11, 1), SAMOA_LOST: date(2011, 12, 31)}  # fmt: skip
    doses = {event.first: event.after for event in by_icalendar(calendar_ics(report(name)))
             if event.summary.startswith("Dose")}  # fmt: skip
    assert {day: doses[day] for day in days} == {day: after[day] for day in days}


def test_a_season_over_the_years_end_keeps_its_uids_in_the_new_year() -> None:
    name = "over the year's end"
    first = report(name).plan
    earlier = read_earlier(plan_json(report(name)).encode())
    assert isinstance(earlier, EarlierPlan)
    later = plan_of(farm_files(name), date(2028, 1, 10), earlier)
    assert {task.uid for task in first.tasks} <= {task.uid for task in later.tasks}
    leap = [task.uid for task in first.tasks if task.kind == "dose" and task.day == LEAP_DAY]
    assert leap
    assert {task.uid for task in later.tasks if task.kind == "dose" and task.day == LEAP_DAY} >= set(leap)
