"""season pull: what the calendar answers becomes a wish, a row of the record after a yes, or a question."""

import io
import json
from datetime import date, timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner

from scheduler.cli import main
from tests.cli.folder import FILES
from tests.exchange.calendars import calendar_text, event_text
from tests.exchange.keeper import SALE, TODAY, Keeper, day_of, keeper, read_json, table

REPEATED = {"labels/pour.toml": FILES["labels/pour.toml"] + "[[use.repeat]]\nafter_days = 21\nml = 10\n"}


@pytest.fixture
def ours(tmp_path: Path, home: str, user: str) -> Keeper:
    """A keeper with a sale late in July, whose plan has been pushed."""
    found = keeper(tmp_path, home, user, SALE)
    found.pushed()
    return found


def test_a_dose_that_was_moved_becomes_a_wish_and_the_next_plan_keeps_it(ours: Keeper) -> None:
    uid = ours.task()["uid"]
    ours.phone.move(uid, date(2027, 5, 24))
    done = ours.pull()
    assert done.exit_code == 0, done.stderr
    assert table(ours, "wishes.csv") == "date,group,label,use,cohort\n2027-05-24,Ewes,pour,guard,Ewes/Mart\n"
    assert "new row: date 24 May 2027, group Ewes, label pour, use guard, cohort Ewes/Mart" in done.stdout
    ours.plan()
    assert (ours.task()["uid"], ours.task()["date"]) == (uid, "2027-05-24")
    assert ours.pushed()["left"] == []


def test_a_second_pull_writes_nothing_twice(ours: Keeper) -> None:
    ours.phone.move(ours.task()["uid"], date(2027, 5, 24))
    ours.pull()
    before = table(ours, "wishes.csv")
    done = ours.pull()
    assert "Wished already: row 2 of wishes.csv." in done.stdout
    assert table(ours, "wishes.csv") == before
    ours.plan()
    assert ours.pull().exit_code == 0
    assert table(ours, "wishes.csv") == before


def test_moved_again_the_wish_of_the_move_before_is_changed(ours: Keeper) -> None:
    uid = ours.task()["uid"]
    for day in (24, 26):
        ours.phone.move(uid, date(2027, 5, day))
        ours.pull()
    ours.plan()
    ours.push()
    ours.phone.move(uid, date(2027, 5, 25))
    ours.pull()
    assert table(ours, "wishes.csv") == "date,group,label,use,cohort\n2027-05-25,Ewes,pour,guard,Ewes/Mart\n"


def test_an_unlawful_day_is_told_at_once_and_after_plan_and_push_by_the_event_itself(ours: Keeper) -> None:
    uid = ours.task()["uid"]
    ours.phone.move(uid, date(2027, 7, 29))
    done = ours.pull()
    assert done.exit_code == 1
    assert "meat-withdrawal (stop)" in done.stdout
    assert "7 days late" in " ".join(done.stdout.split())
    ours.plan()
    told = ours.pushed()
    assert [(one["why"], one["there"]) for one in told["left"]] == [("moved", "2027-07-29")]
    there = ours.phone.read(uid)
    assert "DTSTART;VALUE=DATE:20270729" in there
    assert "Not lawful on 29 Jul 2027: " in there
    assert "is clear on 7 Aug 2027 (8 days)\\, 7 days late" in there
    assert (ours.pushed()["changed"], ours.pull().exit_code) == ([], 1)
    assert table(ours, "wishes.csv").count("\n") == 2


def test_the_keeper_s_table_stays_as_it_was_written(ours: Keeper) -> None:
    before = '\ufeffdate;group;label;use;my note\r\n2027-07-09;Ewes;pour;guard;"if; dry"\r\n'
    ours.farm.joinpath("wishes.csv").write_bytes(before.encode())
    ours.phone.move(ours.task()["uid"], date(2027, 5, 24))
    ours.pull()
    header, row, new = ours.farm.joinpath("wishes.csv").read_bytes().decode().splitlines(keepends=True)
    assert header == "\ufeffdate;group;label;use;my note;cohort\r\n"
    assert row == '2027-07-09;Ewes;pour;guard;"if; dry"\r\n'
    assert new == "2027-05-24;Ewes;pour;guard;;Ewes/Mart\r\n"


@pytest.mark.parametrize(
    ("kind", "day", "said"),
    [("sale", date(2027, 7, 30), "a sale is moved in sales.csv"),
     ("recheck", date(2027, 7, 30), "looks follow the risk"),
     ("dose", date(2027, 4, 30), "which is past"), ("dose", date(2027, 8, 2), "outside the season")],
)  # fmt: skip
def test_what_cannot_be_wished_is_said_and_not_written(ours: Keeper, kind: str, day: date, said: str) -> None:
    ours.phone.move(ours.task(kind)["uid"], day)
    done = ours.pull()
    assert done.exit_code == 0
    assert said in " ".join(done.stdout.split())
    assert table(ours, "wishes.csv") == ""


def test_a_repeat_that_was_moved_pins_its_first_dose(tmp_path: Path, home: str, user: str) -> None:
    found = keeper(tmp_path, home, user, REPEATED)
    found.pushed()
    repeat = next(task for task in found.tasks() if task["repeat_of"])
    first = next(task for task in found.tasks() if task["uid"] == repeat["repeat_of"])
    later = day_of(repeat) + timedelta(days=1)
    found.phone.move(repeat["uid"], later)
    done = found.pull()
    assert done.exit_code == 0, done.stdout
    assert table(found, "wishes.csv").splitlines()[1:] == [
        f"{first['date']},Ewes,pour,guard,Ewes/stay",
        f"{later},Ewes,pour,guard,Ewes/stay,{first['date']}",
    ]
    found.plan()
    assert found.pushed()["left"] == []
    found.phone.move(first["uid"], day_of(first) + timedelta(days=1))
    assert found.pull().exit_code == 0
    assert table(found, "wishes.csv").splitlines()[2].endswith(str(day_of(first) + timedelta(days=1)))


def test_rows_that_would_make_the_farm_unreadable_are_not_written(ours: Keeper) -> None:
    ours.phone.move(ours.task()["uid"], date(2027, 5, 24))
    rows = 5_000
    before = "date,group,label,use\n" + "2027-07-09,Ewes,pour,guard\n" * rows
    ours.farm.joinpath("wishes.csv").write_text(before, encoding="utf-8")
    done = ours.pull("--json")
    assert done.exit_code == 2
    assert "Nothing was written" in done.stderr
    assert json.loads(done.stdout)["faults"][0]["where"]["file"] == "wishes.csv"
    assert table(ours, "wishes.csv") == before


def answered(found: Keeper, answer: str, *words: str) -> str:
    """What a pull told that was given an answer."""
    done = CliRunner().invoke(
        main, ["pull", str(found.farm), "--from", found.address, "--user", found.user, "--today", found.today, *words],
        input=answer,
    )  # fmt: skip
    assert done.exit_code == 0, done.output
    return done.stdout


RECORD = "date,group,label,use,head,cohort,ml_per_head\n2027-05-20,Ewes,pour,guard,100,Ewes/Mart,20\n"


class Meanwhile(io.BytesIO):
    """An answer; while it is waited for, the keeper's editor saves a table."""

    def __init__(self, answer: bytes, path: Path, text: str) -> None:
        super().__init__(answer)
        self.path, self.text = path, text

    def read1(self, size: int | None = -1, /) -> bytes:
        """Saves, and answers."""
        self.path.write_text(self.text, encoding="utf-8")
        return super().read1(size)


def test_a_table_saved_while_the_answer_was_waited_for_is_not_written_over(ours: Keeper) -> None:
    ours.phone.edit(ours.task()["uid"], (r"^SUMMARY:", "SUMMARY:✓ "))
    path, text = ours.farm / "record.csv", "date,group,label,use,head\n2027-04-30,Ewes,pour,guard,3\n"
    words = ["pull", str(ours.farm), "--from", ours.address, "--user", ours.user, "--today", "2027-05-21"]
    done = CliRunner().invoke(main, words, input=Meanwhile(b"yes\n", path, text))
    assert done.exit_code == 2
    assert "has changed meanwhile; nothing was written. Pull again." in done.stderr
    assert path.read_text(encoding="utf-8") == text


@pytest.mark.parametrize(
    ("answer", "words", "record"),
    [("yes\n", (), RECORD), ("no\n", (), ""), ("", (), ""), ("", ("--yes",), RECORD), ("", ("--dry-run", "--yes"), ""),
     ("", ("--json",), ""), ("", ("--json", "--yes"), RECORD)],
)  # fmt: skip
def test_a_dose_marked_done_is_recorded_only_after_a_yes(
    ours: Keeper, answer: str, words: tuple[str, ...], record: str
) -> None:
    ours.phone.edit(ours.task()["uid"], (r"^SUMMARY:", "SUMMARY:✓ "))
    ours.today = "2027-05-21"
    answered(ours, answer, *words)
    assert table(ours, "record.csv") == record


def test_a_dose_marked_done_is_recorded_though_the_plan_has_called_it_off_since(ours: Keeper) -> None:
    task = ours.task()
    ours.phone.edit(task["uid"], (r"^SUMMARY:", "SUMMARY:✓ "))
    ours.today = "2027-05-21"
    ours.plan({"risk.csv": "target,from,to,level\nblowfly-strike,2027-07-20,2027-07-25,0.6\n"})
    assert next(one["status"] for one in ours.tasks() if one["uid"] == task["uid"]) in ("cancelled", "missed")
    assert [one["why"] for one in ours.pushed()["left"]] == ["marked done"]
    answered(ours, "", "--yes")
    assert table(ours, "record.csv") == RECORD


def test_json_lists_what_waits_for_a_yes(ours: Keeper) -> None:
    ours.phone.edit(ours.task()["uid"], (r"^SUMMARY:", "SUMMARY:✓ "))
    told = read_json("pull", ours.pull("--json").stdout)
    assert (told["record"], told["written"], told["unanswered"][0]["cells"]["date"]) == ([], False, TODAY)


def test_what_was_recorded_is_not_recorded_twice_and_the_plan_has_it_done(ours: Keeper) -> None:
    ours.phone.edit(ours.task()["uid"], (r"^CATEGORIES:.*$", "CATEGORIES:dose,Done"))
    ours.today = "2027-05-18"
    answered(ours, "", "--yes")
    ours.today = "2027-05-21"
    answered(ours, "", "--yes")
    assert table(ours, "record.csv") == RECORD.replace("05-20", "05-18")
    ours.plan()
    assert ours.task(status="done")["date"] == "2027-05-18"
    ours.pushed()
    answered(ours, "", "--yes")
    assert table(ours, "record.csv").count("\n") == 2


def test_what_was_deleted_is_a_question_and_nothing_else(ours: Keeper) -> None:
    ours.phone.delete(ours.task()["uid"])
    ours.phone.edit(ours.task("recheck")["uid"], (r"^STATUS:CONFIRMED", "STATUS:CANCELLED"))
    told = read_json("pull", ours.pull("--json").stdout)
    assert {(one["uid"], one["text"]) for one in told["questions"]} == {
        (ours.task()["uid"], "deleted there"), (ours.task("recheck")["uid"], "called off there"),
    }  # fmt: skip
    assert (told["wishes"], told["record"], told["written"]) == ([], [], False)
    assert "Deleted there: Dose of pour for Ewes/Mart, 20 May 2027 (Ewes/Mart@2027-05-20)" in " ".join(
        ours.pull().stdout.split()
    )


def test_everything_else_in_the_calendar_is_ignored(ours: Keeper) -> None:
    ours.phone.ask("PUT", "x.ics", calendar_text([event_text("x", date(2027, 5, 3), "✓ Dentist")]))
    ours.phone.ask("PUT", "y.ics", "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//t//EN\r\nBEGIN:VTODO\r\nUID:y\r\n"
                   "DTSTAMP:20270501T000000Z\r\nSTATUS:COMPLETED\r\nEND:VTODO\r\nEND:VCALENDAR\r\n")  # fmt: skip
    assert ours.pull("--yes").stdout == "Nothing was moved, marked done or deleted in the calendar.\n"


def test_an_event_that_lags_behind_a_newer_plan_was_not_moved(ours: Keeper) -> None:
    ours.plan({"wishes.csv": "date,group,label,use\n2027-05-22,Ewes,pour,guard\n"})
    assert ours.task()["date"] == "2027-05-22"
    assert ours.pull().stdout == "Nothing was moved, marked done or deleted in the calendar.\n"


def test_a_dry_run_writes_nothing(ours: Keeper) -> None:
    ours.phone.move(ours.task()["uid"], date(2027, 5, 24))
    before = {path: path.read_bytes() for path in ours.farm.rglob("*") if path.is_file()}
    done = ours.pull("--dry-run")
    assert "Would write to wishes.csv:" in done.stdout
    assert {path: path.read_bytes() for path in ours.farm.rglob("*") if path.is_file()} == before


def test_json_tells_rows_and_what_the_rules_say(ours: Keeper) -> None:
    ours.phone.move(ours.task()["uid"], date(2027, 7, 29))
    done = ours.pull("--json")
    told = read_json("pull", done.stdout)
    assert done.exit_code == 1
    assert told["wishes"][0]["cells"]["date"] == "2027-07-29"
    assert [one["rule"] for one in told["conflicts"] if one["severity"] == "stop"] == ["meat-withdrawal"]


def test_a_server_out_of_reach_is_exit_3_and_nothing_is_written(tmp_path: Path) -> None:
    found = keeper(tmp_path, "http://127.0.0.1:9/", "anna")
    done = found.pull()
    assert (done.exit_code, done.stdout) == (3, "")
    assert "Nothing was written." in done.stderr


def test_before_a_push_there_is_no_calendar_to_pull_from(tmp_path: Path, home: str, user: str) -> None:
    done = keeper(tmp_path, home, user).pull()
    assert done.exit_code == 3
    assert "push first" in done.stderr


def test_today_is_the_day_up_to_which_a_move_is_taken(ours: Keeper) -> None:
    assert ours.today == TODAY
    ours.phone.move(ours.task()["uid"], date(2027, 5, 10))
    ours.today = "2027-05-11"
    assert "which is past" in " ".join(ours.pull().stdout.split())


def test_a_wish_that_was_pulled_and_is_no_longer_meant_is_named(ours: Keeper) -> None:
    task = ours.task()
    ours.phone.move(task["uid"], date(2027, 7, 29))
    ours.pull()
    ours.plan()
    ours.phone.move(task["uid"], day_of(task))
    done = ours.pull()
    assert "stands as planned again; wishes.csv, row 2 still asks for 29 Jul 2027" in " ".join(done.stdout.split())
    assert table(ours, "wishes.csv").count("\n") == 2
