"""The plan that a feed keeps: renewed as the folder or the day changes; the last good one where it cannot be."""

import os
import subprocess
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from icalendar import Calendar

from scheduler.cli.alone import alone
from scheduler.cli.renewal import Renewal
from scheduler.outputs import feed_ics
from tests.cli.folder import FILES, TODAY, season, write

TODAY_DAY = date.fromisoformat(TODAY)
MORE = FILES["groups.csv"] + "Rams,ram,4,95,85,2027-04-20\n"
FAULTY = FILES["groups.csv"] + "Rams,ram,none,,,\n"


def begun(farm: Path, day: Callable[[], date] = lambda: TODAY_DAY) -> Renewal:
    """A renewal that has looked once."""
    renewal = Renewal(farm, farm / "plan", day, 20.0, "secret")
    assert renewal.begin()
    return renewal


def looks_twice(renewal: Renewal) -> None:
    """A change counts once it was found alike twice."""
    renewal.look()
    renewal.look()


def events(renewal: Renewal) -> list[tuple[str, str]]:
    """UID and title of every event that is served."""
    calendar = Calendar.from_ical(renewal.current().body)
    return [(str(event["UID"]), str(event["SUMMARY"])) for event in calendar.walk("VEVENT")]


def test_the_first_look_plans_and_writes_as_season_plan_does(tmp_path: Path) -> None:
    renewal = begun(write(tmp_path / "one"))
    season("plan", write(tmp_path / "two"), "--today", TODAY)
    for path in (tmp_path / "two" / "plan").iterdir():
        assert (tmp_path / "one" / "plan" / path.name).read_bytes() == path.read_bytes()
    assert renewal.current().body == feed_ics((tmp_path / "one" / "plan" / "calendar.ics").read_bytes())


def test_a_folder_that_stays_is_not_planned_again(tmp_path: Path) -> None:
    renewal = begun(write(tmp_path))
    before = renewal.current()
    (tmp_path / "plan" / "plan.json").unlink()
    (tmp_path / "groups.csv").touch()
    (tmp_path / "notes.txt").write_text("no table")
    looks_twice(renewal)
    assert renewal.current() is before
    assert not (tmp_path / "plan" / "plan.json").exists()


def test_after_a_change_it_is_planned_again_and_what_stays_keeps_its_uid(tmp_path: Path) -> None:
    renewal = begun(write(tmp_path))
    before = events(renewal)
    (tmp_path / "groups.csv").write_text(MORE)
    renewal.look()
    assert events(renewal) == before, "a keeper may still be writing"
    renewal.look()
    after = events(renewal)
    assert {uid for uid, _ in before} < {uid for uid, _ in after}
    assert any("Rams" in title for _, title in after)


def test_a_change_is_seen_by_what_stands_there_whatever_its_date(tmp_path: Path) -> None:
    renewal = begun(write(tmp_path))
    before = renewal.current()
    times = (tmp_path / "groups.csv").stat()
    (tmp_path / "groups.csv").write_text(FILES["groups.csv"].replace("Ewes", "Owes"))
    os.utime(tmp_path / "groups.csv", ns=(times.st_atime_ns, times.st_mtime_ns))
    looks_twice(renewal)
    assert renewal.current() != before


def test_a_new_day_is_planned_anew(tmp_path: Path) -> None:
    days = [TODAY_DAY]
    renewal = begun(write(tmp_path), lambda: days[-1])
    assert b"DTSTAMP:20270501T" in renewal.current().body
    days.append(date(2027, 5, 2))
    looks_twice(renewal)
    assert b"DTSTAMP:20270501T" not in renewal.current().body


def test_a_fault_keeps_the_last_good_calendar_and_says_so_first(tmp_path: Path) -> None:
    renewal = begun(write(tmp_path))
    before = events(renewal)
    written = (tmp_path / "plan" / "calendar.ics").read_bytes()
    (tmp_path / "groups.csv").write_text(FAULTY)
    looks_twice(renewal)
    notice, *rest = events(renewal)
    assert rest == before
    assert notice[0] not in {uid for uid, _ in before}
    assert notice[1] == "Season plan not renewed: look at the farm folder"
    assert str(tmp_path).encode() not in renewal.current().body
    assert (tmp_path / "plan" / "calendar.ics").read_bytes() == written
    (tmp_path / "groups.csv").write_text(FILES["groups.csv"])
    looks_twice(renewal)
    assert events(renewal) == before


def test_the_notice_stands_on_the_day_itself_while_the_fault_lasts(tmp_path: Path) -> None:
    days = [TODAY_DAY]
    renewal = begun(write(tmp_path), lambda: days[-1])
    (tmp_path / "groups.csv").write_text(FAULTY)
    looks_twice(renewal)
    first = events(renewal)[0]
    assert b"DTSTART;VALUE=DATE:20270501\r\n" in renewal.current().body
    days.append(date(2027, 5, 2))
    looks_twice(renewal)
    assert events(renewal)[0] != first
    assert b"DTSTART;VALUE=DATE:20270502\r\n" in renewal.current().body
    assert sum("not renewed" in title for _, title in events(renewal)) == 1


@pytest.mark.parametrize("broken", ["plan.json", "folder"])
def test_whatever_cannot_be_read_is_told_without_its_path(tmp_path: Path, broken: str) -> None:
    farm = write(tmp_path / "farm")
    renewal = begun(farm)
    before = events(renewal)
    if broken == "folder":
        farm.rename(tmp_path / "away")
    else:
        (farm / "plan" / "plan.json").write_text("{}")
        (farm / "groups.csv").write_text(MORE)
    looks_twice(renewal)
    assert events(renewal)[1:] == before
    assert str(tmp_path).encode() not in renewal.current().body


def test_where_the_disk_refuses_the_last_good_calendar_stays(tmp_path: Path) -> None:
    renewal = begun(write(tmp_path))
    before = events(renewal)
    (tmp_path / "plan" / "tasks.csv").unlink()
    (tmp_path / "plan" / "tasks.csv").mkdir()
    (tmp_path / "groups.csv").write_text(MORE)
    looks_twice(renewal)
    assert events(renewal)[1:] == before


def test_a_plan_made_by_hand_is_served_too_and_half_a_file_is_not(tmp_path: Path) -> None:
    renewal = begun(write(tmp_path))
    season("plan", tmp_path, "--today", TODAY, "--calendar-also", "last-safe-days")
    calendar = tmp_path / "plan" / "calendar.ics"
    by_hand = calendar.read_bytes().replace(b"VERSION:2.0\r\n", b"VERSION:2.0\r\nX-BY:hand\r\n")
    calendar.write_bytes(by_hand)
    renewal.look()
    assert renewal.current().body == feed_ics(by_hand)
    for other in (by_hand[:-20], b""):
        calendar.write_bytes(other)
        renewal.look()
        assert renewal.current().body == feed_ics(by_hand)


@pytest.mark.parametrize("planned_before", [False, True])
def test_runs_into_one_folder_wait_for_each_other(tmp_path: Path, planned_before: bool) -> None:
    farm = write(tmp_path)
    if planned_before:
        (farm / "plan").mkdir()
    command = [sys.executable, "-m", "scheduler", "plan", str(farm), "--today", TODAY]
    with alone(farm / "plan"):
        other = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)
        assert other.stderr is not None
        assert other.stderr.readline() == "waiting: another run of season is planning into the same folder\n"
        assert not (farm / "plan" / "plan.json").exists()
    assert (other.wait(), other.stderr.read()) == (0, "")
    assert (farm / "plan" / "plan.json").exists()
