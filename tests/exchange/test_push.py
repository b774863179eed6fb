"""season push against a real server: what is sent, what is not, and what others did there stands."""

import re
from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.exchange.calendars import calendar_text, event_text
from tests.exchange.keeper import SALE, Keeper, day_of, keeper
from tests.exchange.servers import Proxy

OTHERS = calendar_text([event_text("dentist", date(2027, 5, 20), "Dentist")])


@pytest.fixture
def ours(tmp_path: Path, home: str, user: str) -> Keeper:
    """A keeper whose plan has been pushed."""
    found = keeper(tmp_path, home, user)
    found.pushed()
    return found


def test_a_calendar_is_made_and_holds_each_task_once(tmp_path: Path, home: str, user: str) -> None:
    found = keeper(tmp_path, home, user)
    told = found.pushed()
    assert (told["calendar"], told["made"]) == (found.calendar, True)
    uids = sorted(task["uid"] for task in found.tasks())
    assert sorted(told["new"]) == sorted(re.findall(r"^UID:(.*)\r?$", found.phone.all(), re.MULTILINE)) == uids


def test_what_is_sent_says_what_the_plan_says(ours: Keeper) -> None:
    task = ours.task()
    there = ours.phone.read(task["uid"])
    assert f"DTSTART;VALUE=DATE:{task['date'].replace('-', '')}" in there
    assert "20 ml a head" in there
    assert there.count("BEGIN:VALARM") == 2


def test_a_second_push_sends_nothing_and_says_so(ours: Keeper) -> None:
    before = ours.phone.all()
    done = ours.push()
    assert done.exit_code == 0
    assert f"Nothing to send. {len(ours.tasks())} events stand there as sent before." in done.stdout
    assert ours.phone.all() == before


def test_planning_again_on_another_day_without_a_change_sends_nothing(ours: Keeper) -> None:
    ours.today = "2027-05-02"
    ours.plan()
    assert ours.pushed()["unchanged"] == len(ours.tasks())


def test_only_what_changed_is_sent_and_what_fell_away_is_called_off(ours: Keeper) -> None:
    before = {task["uid"]: task for task in ours.tasks()}
    ours.plan(SALE)
    told = ours.pushed()
    changed = {t["uid"] for t in ours.tasks() if t["uid"] in before and t["sequence"] > before[t["uid"]]["sequence"]}
    off = {t["uid"] for t in ours.tasks() if t["status"] == "cancelled"}
    assert off
    assert set(told["called_off"]) == off
    assert changed <= {*told["changed"], *told["called_off"]}
    assert set(told["new"]) == {task["uid"] for task in ours.tasks()} - before.keys()
    assert all("STATUS:CANCELLED" in ours.phone.read(uid) for uid in off)
    assert ours.pushed()["unchanged"] == len(ours.tasks())


def test_events_of_others_in_the_calendar_are_never_touched(tmp_path: Path, home: str, user: str) -> None:
    found = keeper(tmp_path, home, user)
    found.phone.ask("MKCALENDAR")
    found.phone.ask("PUT", "dentist.ics", OTHERS)
    there = found.phone.read("dentist")
    told = found.pushed(to=found.calendar)
    assert (told["calendar"], told["made"]) == (found.calendar, False)
    found.plan(SALE)
    found.pushed("--ours", "all", to=found.calendar)
    assert found.phone.read("dentist") == there


def test_a_day_moved_there_stands_and_the_event_says_both(ours: Keeper) -> None:
    task = ours.task()
    theirs = day_of(task) + timedelta(days=4)
    ours.phone.move(task["uid"], theirs)
    done = ours.push()
    assert done.exit_code == 0
    assert "moved there; the plan has 20 May 2027, the calendar 24 May 2027" in " ".join(done.stdout.split())
    there = ours.phone.read(task["uid"])
    assert f"DTSTART;VALUE=DATE:{theirs:%Y%m%d}" in there
    assert "(plan: 20 May 2027)" in there
    assert "You moved this to 24 May 2027\\; the plan has it on 20 May 2027." in there
    again = ours.pushed()
    assert (again["changed"], again["unchanged"]) == ([], len(ours.tasks()) - 1)
    assert [(one["uid"], one["why"], one["planned"], one["there"]) for one in again["left"]] == [
        (task["uid"], "moved", "2027-05-20", "2027-05-24")
    ]
    assert ours.phone.read(task["uid"]) == there


def test_a_day_moved_back_is_no_conflict_any_more(ours: Keeper) -> None:
    task = ours.task()
    plain = ours.phone.read(task["uid"])
    ours.phone.move(task["uid"], date(2027, 5, 24))
    ours.push()
    ours.phone.move(task["uid"], day_of(task))
    assert ours.pushed()["left"] == []
    sequence = r"SEQUENCE:\d+"
    assert re.sub(sequence, "", ours.phone.read(task["uid"])) == re.sub(sequence, "", plain)
    assert ours.pushed()["unchanged"] == len(ours.tasks())


def test_a_plan_that_follows_to_the_moved_day_is_agreed(ours: Keeper) -> None:
    task = ours.task()
    ours.phone.move(task["uid"], date(2027, 5, 24))
    ours.push()
    ours.plan({"wishes.csv": "date,group,label,use\n2027-05-24,Ewes,pour,guard\n"})
    assert ours.task()["uid"] == task["uid"]
    assert ours.pushed()["left"] == []
    there = ours.phone.read(task["uid"])
    assert "DTSTART;VALUE=DATE:20270524" in there
    assert "You moved" not in there
    ours.plan({"wishes.csv": "date,group,label,use\n"})
    assert ours.pushed()["left"] == []
    assert f"DTSTART;VALUE=DATE:{ours.task()['date'].replace('-', '')}" in ours.phone.read(task["uid"])


@pytest.mark.parametrize(
    ("pattern", "new", "why"),
    [(r"^SUMMARY:", "SUMMARY:with Sam: ", "reworded"), (r"^DESCRIPTION:", "DESCRIPTION:Gate code 12. ", "reworded"),
     (r"^STATUS:CONFIRMED", "STATUS:CANCELLED", "reworded"), (r"^SUMMARY:", "SUMMARY:✓ ", "marked done"),
     (r"^DTSTART.*$", "DTSTART:20270520T070000Z", "timed")],
)  # fmt: skip
def test_other_edits_there_are_left_whatever_the_plan_says_until_ours_is_wanted(
    ours: Keeper, pattern: str, new: str, why: str
) -> None:
    task = ours.task()
    changes = [(pattern, new), (r"^DTEND.*$", "DTEND:20270520T080000Z")] if why == "timed" else [(pattern, new)]
    ours.phone.edit(task["uid"], *changes)
    there = ours.phone.read(task["uid"])
    ours.plan({"groups.csv": "group,kind,head,heaviest_kg,lightest_kg,weighed_on\nEwes,ewe,90,75,55,2027-04-20\n"})
    assert [(one["uid"], one["why"]) for one in ours.pushed()["left"]] == [(task["uid"], why)]
    assert ours.phone.read(task["uid"]) == there
    told = ours.pushed("--ours", f"Ewes@{task['date']}")
    assert (told["changed"], told["left"]) == ([task["uid"]], [])
    assert "90 head" in ours.phone.read(task["uid"])


def test_a_time_given_there_goes_where_the_plan_s_event_is_wanted(ours: Keeper) -> None:
    task = ours.task()
    ours.phone.edit(task["uid"], (r"^DTSTART.*$", "DTSTART:20270520T070000Z"), (r"^DTEND.*$", "DTEND:20270520T080000Z"))
    assert [one["why"] for one in ours.pushed()["left"]] == ["timed"]
    assert ours.pushed("--ours", "all")["changed"] == [task["uid"]]
    assert "DTSTART;VALUE=DATE:20270520" in ours.phone.read(task["uid"])


def test_a_reminder_changed_there_is_kept_when_the_words_change(ours: Keeper) -> None:
    task = ours.task()
    ours.phone.edit(task["uid"], (r"^TRIGGER:-PT6H", "TRIGGER:-PT1H"))
    assert ours.pushed()["changed"] == []
    ours.plan({"groups.csv": "group,kind,head,heaviest_kg,lightest_kg,weighed_on\nEwes,ewe,90,75,55,2027-04-20\n"})
    assert task["uid"] in ours.pushed()["changed"]
    there = ours.phone.read(task["uid"])
    assert "90 head" in there
    assert "TRIGGER:-PT1H" in there
    assert ours.pushed()["changed"] == []


def test_what_was_deleted_there_is_asked_about_and_put_back_only_when_wanted(ours: Keeper) -> None:
    task = ours.task()
    ours.phone.delete(task["uid"])
    for _ in range(2):
        told = ours.pushed()
        assert [(one["uid"], one["why"], one["there"]) for one in told["left"]] == [(task["uid"], "deleted", None)]
        assert not ours.phone.has(task["uid"])
    assert ours.pushed("--ours", task["uid"])["new"] == [task["uid"]]
    assert ours.phone.has(task["uid"])
    assert ours.pushed()["unchanged"] == len(ours.tasks())


def test_a_done_task_stands_as_recorded_though_it_was_marked_and_moved_there(ours: Keeper) -> None:
    task = ours.task()
    ours.phone.move(task["uid"], date(2027, 5, 22))
    ours.phone.edit(task["uid"], (r"^SUMMARY:", "SUMMARY:✓ "))
    ours.today = "2027-05-23"
    ours.plan({"record.csv": "date,group,label,use,head\n2027-05-21,Ewes,pour,guard,100\n"})
    told = ours.pushed()
    assert task["uid"] in told["changed"]
    assert "DTSTART;VALUE=DATE:20270521" in ours.phone.read(task["uid"])
    assert "(done)" in ours.phone.read(task["uid"])


def test_a_last_safe_day_that_fell_away_is_called_off(ours: Keeper) -> None:
    ours.farm.joinpath("sales.csv").write_text(SALE["sales.csv"], encoding="utf-8")
    from tests.cli.folder import season

    season("plan", ours.farm, "--today", ours.today, "--calendar-also", "last-safe-days")
    calendar = (ours.farm / "plan" / "calendar.ics").read_text(encoding="utf-8")
    events = [event for event in calendar.split("BEGIN:VEVENT") if "CATEGORIES:last-safe-day" in event]
    uids = {match[1] for event in events if (match := re.search(r"UID:(\S+)", event))}
    assert uids <= set(ours.pushed()["new"])
    ours.plan()
    assert set(ours.pushed()["called_off"]) == uids
    assert all("STATUS:CANCELLED" in ours.phone.read(uid) for uid in uids)
    assert ours.pushed()["called_off"] == []


def test_only_some_kinds_are_sent_and_the_others_stay(ours: Keeper) -> None:
    before = {task["uid"]: ours.phone.read(task["uid"]) for task in ours.tasks() if task["kind"] != "dose"}
    ours.plan(SALE)
    told = ours.pushed("--only", "dose")
    kinds = {task["uid"]: task["kind"] for task in ours.tasks()}
    assert {kinds[uid] for uid in (*told["new"], *told["changed"], *told["called_off"])} == {"dose"}
    assert all(ours.phone.read(uid) == text for uid, text in before.items())


def test_a_dry_run_sends_nothing_and_notes_nothing(
    tmp_path: Path, home: str, user: str, proxy: tuple[Proxy, int]
) -> None:
    found = keeper(tmp_path, f"http://127.0.0.1:{proxy[1]}/{user}/", user)
    done = found.push("--dry-run")
    assert done.exit_code == 0
    assert f"Would send: {len(found.tasks())} new" in done.stdout
    found.pushed()
    proxy[0].seen.clear()
    found.phone.move(found.task()["uid"], date(2027, 5, 24))
    state = (found.farm / "plan" / "pushed.json").read_bytes()
    assert len(found.pushed("--dry-run")["changed"]) == 1
    assert not {"PUT", "MKCALENDAR"} & {*proxy[0].seen[2:]}
    assert (found.farm / "plan" / "pushed.json").read_bytes() == state


def test_without_what_was_noted_nothing_is_doubled_nor_overwritten(ours: Keeper) -> None:
    task = ours.task()
    ours.phone.move(task["uid"], date(2027, 5, 24))
    (ours.farm / "plan" / "pushed.json").unlink()
    told = ours.pushed()
    assert (told["new"], told["unchanged"]) == ([], len(ours.tasks()) - 1)
    assert [one["why"] for one in told["left"]] == ["moved"]
    assert "DTSTART;VALUE=DATE:20270524" in ours.phone.read(task["uid"])
    assert ours.pushed()["changed"] == []


def test_a_client_that_drops_what_it_does_not_know_hides_no_move(ours: Keeper) -> None:
    task = ours.task()
    ours.phone.move(task["uid"], date(2027, 5, 24))
    ours.phone.edit(task["uid"], (r"^X-SEASON-SENT:.*\r?\n", ""))
    assert [one["why"] for one in ours.pushed()["left"]] == ["moved"]
    assert "DTSTART;VALUE=DATE:20270524" in ours.phone.read(task["uid"])


def test_the_calendar_is_found_again_after_it_was_deleted_there(ours: Keeper) -> None:
    ours.phone.ask("DELETE")
    told = ours.pushed()
    assert (told["made"], len(told["new"])) == (True, len(ours.tasks()))
