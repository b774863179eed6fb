"""--calendar-also last-safe-days, and the room to move in an event's text, as a calendar reader has them."""

from datetime import date
from pathlib import Path
from typing import Any

import icalendar

from tests.cli.folder import FILES, TODAY, season, write

SOLD = {
    "sales.csv": "sale,group,head,date,purpose\nMart,Ewes,40,2027-07-20,slaughter\nAutumn,Ewes,10,2027-07-30,store\n",
    "labels/own.toml": FILES["labels/pour.toml"].replace("Demo pour-on", "Demo other").replace("meat = 8", "meat = 30")
    .replace("checked = 2027-02-14\n", ""),
}  # fmt: skip


def events(farm: Path, *words: str) -> list[Any]:
    """The events of the plan's calendar."""
    done = season("plan", farm, "--today", TODAY, *words)
    assert done.exit_code == 0, done.stderr
    return icalendar.Calendar.from_ical((farm / "plan" / "calendar.ics").read_bytes()).walk("VEVENT")


def last_days(found: list[Any]) -> list[Any]:
    """The events of last safe days."""
    return [event for event in found if event["CATEGORIES"].cats == ["last-safe-day"]]


def test_last_safe_days_leave_8_and_30_whole_days_before_each_sale(tmp_path: Path) -> None:
    """Clear date = last dose + days + 1, so the last dose is days + 1 before the sale."""
    found = last_days(events(write(tmp_path, SOLD), "--calendar-also", "last-safe-days"))
    assert sorted((event["DTSTART"].dt, str(event["SUMMARY"])) for event in found) == [
        (date(2027, 6, 19), "Last safe day of Demo other (invented) for Ewes, 40 head (Mart) (draft)"),
        (date(2027, 6, 29), "Last safe day of Demo other (invented) for Ewes, 10 head (Autumn) (draft)"),
        (date(2027, 7, 11), "Last safe day of Demo pour-on (invented) for Ewes, 40 head (Mart)"),
        (date(2027, 7, 21), "Last safe day of Demo pour-on (invented) for Ewes, 10 head (Autumn)"),
    ]


def test_they_are_no_tasks_have_no_alarm_and_keep_their_uids_when_the_sale_moves(tmp_path: Path) -> None:
    farm = write(tmp_path, SOLD)
    before = events(farm, "--calendar-also", "last-safe-days")
    tasks = (farm / "plan" / "plan.json").read_text(encoding="utf-8")
    own = last_days(before)
    assert not any(str(event["UID"]) in tasks or event.walk("VALARM") for event in own)
    assert len({str(event["UID"]) for event in before}) == len(before)
    moved = (farm / "sales.csv").read_text(encoding="utf-8").replace("2027-07-20", "2027-07-25")
    (farm / "sales.csv").write_text(moved, encoding="utf-8")
    after = last_days(events(farm, "--calendar-also", "last-safe-days"))
    assert {str(event["UID"]) for event in after} == {str(event["UID"]) for event in own}
    assert {event["DTSTART"].dt for event in after} != {event["DTSTART"].dt for event in own}


def test_without_asking_there_are_none(tmp_path: Path) -> None:
    assert last_days(events(write(tmp_path, SOLD))) == []


def test_each_says_what_is_counted_and_who_decides(tmp_path: Path) -> None:
    found = last_days(events(write(tmp_path, SOLD), "--calendar-also", "last-safe-days"))
    told = {str(event["SUMMARY"]): str(event["DESCRIPTION"]) for event in found}
    mart = told["Last safe day of Demo pour-on (invented) for Ewes, 40 head (Mart)"]
    store = told["Last safe day of Demo other (invented) for Ewes, 10 head (Autumn) (draft)"]
    assert "counted 8 days for meat. A dose after it is unlawful." in mart
    assert store.startswith("Draft: the label is not confirmed")
    assert "Later is lawful, but the buyer must be told." in store
    assert all("The label and leaflet in hand come before this plan" in text for text in told.values())


def test_another_word_is_wrong_usage(tmp_path: Path) -> None:
    done = season("plan", write(tmp_path), "--today", TODAY, "--calendar-also", "birthdays")
    assert done.exit_code == 2
    assert not (tmp_path / "plan").exists()


def test_the_event_of_a_dose_says_how_far_it_may_slip(tmp_path: Path) -> None:
    """42 days of cover reach 30 June from 20 May to 1 June; a day later leaves the first of June open."""
    (dose,) = [event for event in events(write(tmp_path)) if event["CATEGORIES"].cats == ["dose"]]
    words = "Room to move, all else as planned: to Tue 1 Jun 2027 free; from Wed 2 Jun 2027 100 sheep-days a day."
    assert words in str(dose["DESCRIPTION"]).splitlines()
