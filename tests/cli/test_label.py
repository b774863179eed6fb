"""season label: read twice, written once, and nothing written before the keeper says yes."""

import tomllib
from datetime import date
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner, Result

from scheduler.cli import main
from tests.cli.folder import FILES, TODAY, inside, season, write

NAME = "labels/pour.toml"
UNCHECKED = {NAME: FILES[NAME].replace("checked = 2027-02-14\n", "# my own note\n")}
EDITION = "2027-01"
WITHDRAWAL, LIMITS, PACK = ("8", "", "", ""), ("", "", "", "", "", "0"), ("2500",)
USE, DOSE, REPEATS = ("42", "56", "", "", "", "", ""), ("1", "", "", "20"), ("0",)
READING = [*WITHDRAWAL, *LIMITS, *PACK, *USE, *DOSE, *REPEATS]
OTHER_MEAT = ["28", *READING[1:]]
TWICE = ["yes", EDITION, *READING, *READING, "yes"]
NEW = ["Demo dip (invented)", "diazinon", "organophosphate", "dip", EDITION, "GB; IE", "no"]
NEW_USE = ["1", "92.00", "2500", "1", "bath", "prevent", "scab; lice", "", "shearing", "As the leaflet shows."]


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    return write(tmp_path / "farm", UNCHECKED)


def label(farm: Path, *words: str, typed: list[str] | None = None) -> Result:
    """What the command does with these lines typed."""
    lines = "".join(f"{line}\n" for line in typed or [])
    return CliRunner().invoke(main, ["label", str(farm), *words, "--today", TODAY], input=lines, prog_name="season")


def text(farm: Path, name: str = NAME) -> str:
    return (farm / name).read_text(encoding="utf-8")


def test_two_readings_that_agree_make_the_label_checked_and_the_plan_no_draft(farm: Path) -> None:
    before = season("plan", farm, "--today", TODAY).stdout
    done = label(farm, "pour", typed=TWICE)
    assert (done.exit_code, done.stderr) == (0, "")
    assert tomllib.loads(text(farm))["checked"] == date(2027, 5, 1)
    assert "# my own note" in text(farm)
    assert "DRAFT" in before
    assert "DRAFT" not in season("plan", farm, "--today", TODAY).stdout


def test_the_file_s_figures_are_not_shown_before_they_were_read_twice(farm: Path) -> None:
    shown = label(farm, "pour", typed=TWICE).stdout.partition("Both readings agree.")[0].partition("First reading")[2]
    assert "Withdrawal: meat" in shown
    assert not any(figure in shown for figure in ("8", "2500", "42", "56"))


def test_a_mistyped_withdrawal_is_caught_by_the_second_reading(farm: Path) -> None:
    done = label(farm, "pour", typed=["yes", EDITION, *READING, *OTHER_MEAT, "8", "yes"])
    assert "Your readings differ: 8, then 28. Look once more." in done.stdout
    assert tomllib.loads(text(farm))["withdrawal"]["meat"] == 8


def test_a_figure_that_was_filed_wrong_is_shown_doubted_and_mended(farm: Path) -> None:
    done = label(farm, "pour", typed=["yes", EDITION, *OTHER_MEAT, *OTHER_MEAT, "yes"])
    told = " ".join(done.stdout.split())
    assert "Changes withdrawal.meat: the file said 8, the leaflet says 28." in told
    assert "Look once more: meat withdrawal: 28 days, where leaflets" in told
    assert tomllib.loads(text(farm))["withdrawal"]["meat"] == 28


@pytest.mark.parametrize("typed", [
    [],
    TWICE[:1],
    TWICE[:20],
    TWICE[:-1],
    [*TWICE[:-1], "no"],
    ["no"],
], ids=["nothing", "words", "first reading", "last word", "no", "words are wrong"])  # fmt: skip
def test_without_the_last_yes_nothing_is_written(typed: list[str], farm: Path) -> None:
    done = label(farm, "pour", typed=typed)
    assert done.exit_code == 2
    assert "othing was written" in done.stderr
    assert (text(farm), inside(farm)) == (UNCHECKED[NAME], sorted(FILES))


def test_a_file_that_changed_meanwhile_is_left_alone(farm: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    typed = iter(TWICE)

    def ask(question: str) -> str:
        answer = next(typed)
        if question.startswith("Write"):
            (farm / NAME).write_text("other", encoding="utf-8")
        return answer

    monkeypatch.setattr("scheduler.cli.label.ask", ask)
    done = label(farm, "pour")
    assert (done.exit_code, text(farm)) == (2, "other")
    assert "has changed meanwhile" in done.stderr


def test_byte_order_mark_and_line_ends_stay(farm: Path) -> None:
    (farm / NAME).write_bytes(b"\xef\xbb\xbf" + UNCHECKED[NAME].replace("\n", "\r\n").encode())
    assert label(farm, "pour", typed=TWICE).exit_code == 0
    raw = (farm / NAME).read_bytes()
    assert raw.startswith(b"\xef\xbb\xbfname")
    assert b"[withdrawal]\r\nmeat = 8\r\n" in raw
    assert season("check", farm, "--today", TODAY).exit_code == 0


def test_a_new_label_is_filed_the_same_way_and_can_be_planned_with(farm: Path) -> None:
    withdrawal, use = ["70", "not permitted", "", ""], ["21", "8 weeks", "", "", "", "", "", "2", "", "25"]
    doses, end = ["0.5 per kg", "", "", "25", "", "20"], ["0"]
    first = [*NEW, *withdrawal, *LIMITS, *NEW_USE, *use, *doses, *end]
    second = [*withdrawal, *LIMITS, "2500", *use, *doses, *end]
    done = label(farm, "bath", "--new", typed=[*first, *second, "yes"])
    assert (done.exit_code, done.stderr) == (0, "")
    filed = tomllib.loads(text(farm, "labels/bath.toml"))
    assert filed["withdrawal"] == {"meat": 70, "milk": "not-permitted"}
    assert (filed["countries"], filed["checked"], filed["form"]) == (["GB", "IE"], date(2027, 5, 1), "dip")
    assert filed["use"][0]["protects_days"] == [21, 56]
    assert [band.get("upto_kg") for band in filed["use"][0]["dose"]] == [25, None]
    assert season("dose", "bath", "--farm", farm, "--today", TODAY).exit_code == 0


@pytest.mark.parametrize(("words", "expected"), [
    (("por",), 'There is no label "por"'),
    (("por",), 'did you mean "pour"?'),
    (("pour", "--new"), "is there already"),
    (("a;b",), "cannot name a label"),
    (("x" * 400,), "cannot name a label"),
    (("pour", "--new", "--print"), "do not go together"),
    (("pour", "--out", "x.html"), "--out is for the sheet"),
    (("pour", "--print", "--out", "labels/pour.toml"), "--out must end in .html"),
])  # fmt: skip
def test_what_cannot_be_is_said_before_anything_is_asked(words: tuple[str, ...], expected: str, farm: Path) -> None:
    done = label(farm, *words)
    assert (done.exit_code, done.stdout) == (2, "")
    assert expected in done.stderr


def test_a_label_with_faults_is_mended_first(tmp_path: Path) -> None:
    farm = write(tmp_path, {NAME: UNCHECKED[NAME].replace("meat = 8", 'meat = "eight"')})
    done = label(farm, "pour", typed=TWICE)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.startswith('labels/pour.toml, withdrawal.meat: found "eight"')


def test_the_labels_of_a_workbook_are_confirmed_in_it(tmp_path: Path) -> None:
    (tmp_path / "farm.xlsx").write_bytes(b"PK")
    done = label(tmp_path, "pour")
    assert done.exit_code == 2
    assert "confirm one by the day in its `checked` cell" in done.stderr


def test_a_folder_that_is_no_farm_is_told_so(tmp_path: Path) -> None:
    done = label(tmp_path / "nowhere", "pour")
    assert done.exit_code == 2
    assert "is no farm folder" in done.stderr


def test_the_sheet_holds_every_figure_says_draft_and_has_room_to_sign(farm: Path) -> None:
    done = label(farm, "pour", "--print")
    assert done.exit_code == 0
    sheet = text(farm, "labels/pour.html")
    page = ElementTree.fromstring(sheet)
    words = " ".join("".join(page.itertext()).split())
    assert "DRAFT." in words
    assert "Signature" in words
    assert "Your vet and the law of your country decide" in words
    rows = {" ".join(row.itertext()).strip() for row in page.iter("{http://www.w3.org/1999/xhtml}tr")}
    assert rows >= {
        "meat, in days, or not permitted 8",
        "most days of protection 56",
        "how many ml does it hold 2500",
    }
    assert season("check", farm, "--today", TODAY).exit_code == 0


def test_the_sheet_of_a_confirmed_label_is_no_draft_and_lies_where_it_is_wanted(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    assert label(farm, "pour", "--print", "--out", str(tmp_path / "sheets" / "one.html")).exit_code == 0
    sheet = (tmp_path / "sheets" / "one.html").read_text(encoding="utf-8")
    assert "DRAFT" not in sheet
    assert "compared the file with the leaflet on 14 Feb 2027" in sheet
