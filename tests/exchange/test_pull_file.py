"""season pull from a saved file: what it holds, what it lacks, and files that are no calendar; and of a workbook."""

from datetime import timedelta
from pathlib import Path

import pytest

from tests.cli.folder import season
from tests.exchange.calendars import calendar_text
from tests.exchange.keeper import SALE, Keeper, day_of, keeper, table


def saved(found: Keeper, *changes: tuple[str, str]) -> Path:
    """The plan's own calendar as a program may have saved it, with some edits."""
    text = (found.farm / "plan" / "calendar.ics").read_bytes().decode()
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    path = found.farm.parent / "saved.ics"
    path.write_bytes(text.encode())
    return path


def test_a_saved_file_is_read_too_and_what_it_lacks_is_not_deleted(tmp_path: Path) -> None:
    found = keeper(tmp_path, "http://127.0.0.1:9/", "anna", SALE)
    whole = saved(found, (f"DTSTART;VALUE=DATE:{day_of(found.task()):%Y%m%d}", "DTSTART;VALUE=DATE:20270524"))
    events = whole.read_text(encoding="utf-8").split("BEGIN:VEVENT")
    moved = next(event for event in events if "20270524" in event).partition("END:VEVENT")[0]
    part = tmp_path / "part.ics"
    part.write_text(calendar_text([f"BEGIN:VEVENT{moved}END:VEVENT\n"]), encoding="utf-8")
    done = found.pull(source=part)
    assert done.exit_code == 0, done.stderr
    assert f"{len(found.tasks()) - 1} events of the plan are not in the file" in " ".join(done.stdout.split())
    assert table(found, "wishes.csv").splitlines()[1:] == ["2027-05-24,Ewes,pour,guard,Ewes/Mart"]


def test_a_file_of_an_older_plan_is_not_taken_for_a_move(tmp_path: Path) -> None:
    found = keeper(tmp_path, "http://127.0.0.1:9/", "anna", SALE)
    old = saved(found)
    found.plan({"wishes.csv": "date,group,label,use\n2027-05-22,Ewes,pour,guard\n"})
    before = table(found, "wishes.csv")
    done = found.pull(source=old)
    assert "from an older plan" in " ".join(done.stdout.split())
    assert table(found, "wishes.csv") == before


@pytest.mark.parametrize(
    ("content", "said"),
    [(b"", "no calendar"), (b"hello\n", "no calendar"), (b"\x00" * 50, "control character"),
     (b"BEGIN:VCALENDAR\r\nX:\x00\r\nEND:VCALENDAR\r\n", "control character"),
     ("BEGIN:VCALENDAR\r\nX:\xe4\r\nEND:VCALENDAR\r\n".encode("latin-1"), "not UTF-8"),
     ("BEGIN:VCALENDAR\r\nEND:VCALENDAR\r\n".encode("utf-16"), "UTF-16"), (b"BEGIN:VEVENT\r\n" * 50_000, "no calendar"),
     (b"BEGIN:VCALENDAR\r\n" + b"X:y\r\n" * 2_000_000, "too large"), (None, "no such file"), ("folder", "a folder")],
)  # fmt: skip
def test_a_file_that_is_no_calendar_is_a_fault_and_nothing_is_written(
    content: bytes | str | None, said: str, tmp_path: Path
) -> None:
    found = keeper(tmp_path, "http://127.0.0.1:9/", "anna")
    path = tmp_path / "saved.ics"
    if content == "folder":
        path.mkdir()
    elif isinstance(content, bytes):
        path.write_bytes(content)
    done = found.pull(source=path)
    assert (done.exit_code, done.stdout) == (2, "")
    assert said in done.stderr
    assert len(done.stderr.splitlines()) == 1
    assert table(found, "wishes.csv") == ""


def test_of_a_workbook_the_rows_are_shown_and_nothing_is_written(tmp_path: Path) -> None:
    season("new", tmp_path / "farm", "--workbook", "--today", "2026-11-01")
    found = Keeper(tmp_path / "farm", "http://127.0.0.1:9/", "anna", "2027-03-01")
    found.plan()
    task = found.task()
    day = day_of(task) + timedelta(days=1)
    begun = f"UID:{task['uid']}\r\nDTSTAMP:20270301T000000Z\r\nDTSTART;VALUE=DATE:"
    path = saved(found, (f"{begun}{day_of(task):%Y%m%d}", f"{begun}{day:%Y%m%d}"))
    before = (found.farm / "farm.xlsx").read_bytes()
    done = found.pull(source=path)
    assert done.exit_code == 0, done.stderr
    assert "Add to farm.xlsx, sheet wishes:" in done.stdout
    assert (found.farm / "farm.xlsx").read_bytes() == before
    assert not (found.farm / "wishes.csv").exists()
