"""--calendar and --only: calendars of a group or a kind beside the whole one, and none of an earlier run left."""

import json
from pathlib import Path

import pytest

from tests.calendar.readers import Seen, by_icalendar
from tests.calendar.standard import faults_of
from tests.cli.folder import FILES, TODAY, WRITTEN, inside, season, write

FARM = {
    "groups.csv": FILES["groups.csv"] + "ewes?,ram,4,95,80,2027-04-20\nHoggs & tups,hogg,30,50,40,2027-04-20\n",
    "mobs.csv": "mob,gather_minutes\nEwes,60\n",
    "sales.csv": "sale,group,head,date,purpose\nMart,Ewes,40,2027-07-20,slaughter\n",
}
KINDS = ["clear", "dose", "order", "prepare", "recheck", "sale", "season-opens"]


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    """Three groups, of which two differ on the disk by a question mark and a capital alone."""
    return write(tmp_path / "farm", FARM)


def planned(farm: Path, *words: str) -> dict[str, dict[str, Seen]]:
    """The events by UID of each calendar that the plan's folder then holds."""
    done = season("plan", farm, "--today", TODAY, *words)
    assert done.exit_code == 0, done.output
    calendars = {path.name: path.read_bytes() for path in (farm / "plan").glob("*.ics")}
    assert {name: faults_of(calendar) for name, calendar in calendars.items() if faults_of(calendar)} == {}
    return {name: {event.uid: event for event in by_icalendar(found)} for name, found in calendars.items()}


def kinds_in(events: dict[str, Seen], farm: Path) -> set[str]:
    """The kinds of task of some events."""
    tasks = json.loads((farm / "plan" / "plan.json").read_bytes())["tasks"]
    return {task["kind"] for task in tasks if task["uid"] in events}


def test_one_is_the_default_and_the_whole(farm: Path) -> None:
    assert list(planned(farm)) == ["calendar.ics"]
    assert planned(farm, "--calendar", "one") == planned(farm)


def test_each_kind_has_its_file_and_all_of_them_are_the_whole(farm: Path) -> None:
    found = planned(farm, "--calendar", "kinds")
    whole = found.pop("calendar.ics")
    assert sorted(found) == [f"calendar-{kind}.ics" for kind in KINDS]
    assert {uid: event for events in found.values() for uid, event in events.items()} == whole
    assert sum(map(len, found.values())) == len(whole)
    assert all(kinds_in(events, farm) == {name[9:-4]} for name, events in found.items())


def test_each_group_has_its_file_with_what_is_for_it_and_for_the_whole_farm(farm: Path) -> None:
    found = planned(farm, "--calendar", "groups")
    whole = found.pop("calendar.ics")
    assert len(found) == 3
    for events in found.values():
        assert all(whole[uid] == event for uid, event in events.items()), "same UID, SEQUENCE and words in each"
        assert kinds_in(events, farm) >= {"order", "season-opens", "prepare", "dose"}
    assert set().union(*found.values()) == set(whole)
    hoggs = found["calendar-Hoggs-tups.ics"]
    assert all("Hoggs & tups" in event.summary for event in hoggs.values() if event.summary.startswith("Dose"))
    assert not any(event.summary.startswith("Sell") for event in hoggs.values())


def test_two_groups_that_would_share_a_file_stay_apart(farm: Path) -> None:
    names = sorted(planned(farm, "--calendar", "groups"))
    assert [name[:14] for name in names] == ["calendar-Ewes-", "calendar-Hoggs", "calendar-ewes-", "calendar.ics"]
    assert len({name.casefold() for name in names}) == 4


def test_what_is_for_a_joined_mob_stands_with_each_of_its_groups(tmp_path: Path) -> None:
    mob = "group,kind,head,heaviest_kg,mob\nEwes,ewe,100,75,Hill\nTups,ram,4,95,Hill\n"
    found = planned(write(tmp_path, {"groups.csv": mob}), "--calendar", "groups")
    shared = [uid for uid, event in found["calendar.ics"].items() if "Ewes; Tups, 104 head" in event.summary]
    assert len(shared) > 4
    assert all(uid in found["calendar-Ewes.ics"] and uid in found["calendar-Tups.ics"] for uid in shared)


def test_only_narrows_the_further_calendars_and_never_the_whole(farm: Path) -> None:
    whole = planned(farm)["calendar.ics"]
    one = planned(farm, "--only", "dose, sale")
    assert sorted(one) == ["calendar-only.ics", "calendar.ics"]
    assert kinds_in(one["calendar-only.ics"], farm) == {"dose", "sale"}
    kinds = planned(farm, "--calendar", "kinds", "--only", "recheck")
    assert sorted(kinds) == ["calendar-recheck.ics", "calendar.ics"]
    groups = planned(farm, "--calendar", "groups", "--only", "dose")
    assert [kinds_in(events, farm) for name, events in groups.items() if name != "calendar.ics"] == [{"dose"}] * 3
    assert one["calendar.ics"] == kinds["calendar.ics"] == groups["calendar.ics"] == whole


def test_a_kind_without_a_task_has_an_empty_calendar(tmp_path: Path) -> None:
    assert planned(write(tmp_path), "--calendar", "kinds")["calendar-sale.ics"] == {}


def test_last_safe_days_are_no_tasks(farm: Path) -> None:
    also = ("--calendar-also", "last-safe-days")
    kinds = planned(farm, "--calendar", "kinds", *also)
    last = set(kinds["calendar-last-safe-day.ics"])
    assert last
    assert last <= set(kinds["calendar.ics"])
    assert last.isdisjoint(planned(farm)["calendar.ics"])
    assert last <= set(planned(farm, "--calendar", "groups", *also)["calendar-Ewes-" + digits(farm) + ".ics"])
    assert last.isdisjoint(planned(farm, "--only", "dose", *also)["calendar-only.ics"])


def digits(farm: Path) -> str:
    """What tells the file of Ewes from that of ewes?."""
    (name,) = (path.name for path in (farm / "plan").glob("calendar-Ewes-*.ics"))
    return name.removeprefix("calendar-Ewes-").removesuffix(".ics")


def test_no_calendar_of_an_earlier_run_is_left_to_go_stale_and_the_keepers_own_stay(farm: Path) -> None:
    planned(farm, "--calendar", "kinds")
    for name in ("calendar-mine.ics", "holidays.ics", "calendar-notes.txt"):
        (farm / "plan" / name).write_bytes(b"BEGIN:VCALENDAR\r\nPRODID:-//other//EN\r\nEND:VCALENDAR\r\n")
    done = season("plan", farm, "--today", TODAY, "--only", "dose")
    others = ["calendar-mine.ics", "calendar-notes.txt", "calendar-only.ics", "holidays.ics"]
    assert inside(farm / "plan") == sorted([*WRITTEN, *others])
    told = done.stdout.partition("Removed, for they would keep the days of the earlier plan:\n")[2]
    assert [line.rpartition("/")[2] for line in told.splitlines()] == [f"calendar-{kind}.ics" for kind in KINDS]


def test_what_an_earlier_run_wrote_on_request_goes_where_it_is_not_asked_for(farm: Path) -> None:
    planned(farm, "--frontier")
    assert "frontier.json" in inside(farm / "plan")
    planned(farm)
    assert inside(farm / "plan") == sorted(WRITTEN)
    (farm / "plan" / "years.json").write_text("mine")
    planned(farm)
    assert "years.json" in inside(farm / "plan")


def test_where_the_plan_is_not_written_no_calendar_is_removed(farm: Path) -> None:
    planned(farm, "--calendar", "kinds")
    before = {name: (farm / "plan" / name).read_bytes() for name in inside(farm / "plan") if name != "tasks.csv"}
    (farm / "plan" / "tasks.csv").unlink()
    (farm / "plan" / "tasks.csv").mkdir()
    assert season("plan", farm, "--today", TODAY).exit_code == 3
    assert {name: (farm / "plan" / name).read_bytes() for name in inside(farm / "plan")} == before


@pytest.mark.parametrize(
    ("words", "near"),
    [("doze", 'did you mean "dose"?'), ("dose,sail,re-check", 'found "sail", "re-check"'), ("", 'found ""'), (",", "")],
)
def test_a_kind_that_is_none_is_wrong_usage_and_the_nearest_is_named(words: str, near: str, farm: Path) -> None:
    done = season("plan", farm, "--only", words)
    assert done.exit_code == 2
    assert near in done.stderr
    assert "expected kinds of task: dose, recheck, clear, prepare, order, sale, season-opens" in done.stderr
    assert not (farm / "plan").exists()


def test_another_set_of_calendars_is_wrong_usage(farm: Path) -> None:
    assert season("plan", farm, "--calendar", "mobs").exit_code == 2
