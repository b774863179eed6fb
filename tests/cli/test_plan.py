"""season plan: exit codes, what is written and what is not, and what other programs read from stdout."""

import json
from pathlib import Path

import jsonschema
import pytest

from tests.cli.folder import FORBIDDEN_WISH, OUT_OF_COVER, TODAY, WRITTEN, inside, season, write

BROKEN = {"groups.csv": "group,kind,head\nEwes,ewe,0\nRams,boar,4\n"}


def test_a_covered_season_is_exit_0_and_every_file(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    done = season("plan", farm, "--today", TODAY)
    assert (done.exit_code, done.stderr) == (0, "")
    assert inside(farm / "plan") == WRITTEN
    assert all(str(farm / "plan" / name) in done.stdout for name in WRITTEN)


@pytest.mark.parametrize("changes", [OUT_OF_COVER, FORBIDDEN_WISH], ids=["exposed", "stop"])
def test_exposed_days_or_a_stop_conflict_are_exit_1_and_the_plan_is_written(
    changes: dict[str, str], tmp_path: Path
) -> None:
    farm = write(tmp_path / "farm", changes)
    done = season("plan", farm, "--today", TODAY)
    assert done.exit_code == 1, done.stderr
    assert inside(farm / "plan") == WRITTEN


def test_each_case_of_exit_1_has_its_own_reason(tmp_path: Path) -> None:
    seen = []
    for number, changes in enumerate((OUT_OF_COVER, FORBIDDEN_WISH)):
        done = season("plan", write(tmp_path / str(number), changes), "--today", TODAY, "--json")
        plan = json.loads(done.stdout)
        stops = [one["rule"] for one in plan["conflicts"] if one["severity"] == "stop"]
        seen.append((plan["score"]["exposed_sheep_days"] > 0, stops))
    assert seen == [(True, []), (False, ["meat-withdrawal"])]


def test_every_fault_is_told_at_once_and_nothing_written(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm", BROKEN)
    before = inside(tmp_path)
    done = season("plan", farm, "--today", TODAY, "--out", tmp_path / "plan")
    assert (done.exit_code, done.stdout) == (2, "")
    assert [line.partition(": ")[0] for line in done.stderr.splitlines()] == [
        "groups.csv, row 2, head", "groups.csv, row 3, kind",
    ]  # fmt: skip
    assert inside(tmp_path) == before


def test_faults_come_as_json_too(tmp_path: Path) -> None:
    done = season("plan", write(tmp_path / "farm", BROKEN), "--today", TODAY, "--json")
    faults = json.loads(done.stdout)["faults"]
    assert done.exit_code == 2
    assert [fault["where"] for fault in faults] == [
        {"file": "groups.csv", "row": 2, "column": "head"}, {"file": "groups.csv", "row": 3, "column": "kind"},
    ]  # fmt: skip
    assert all(set(fault) == {"where", "found", "expected", "mend"} and all(fault.values()) for fault in faults)
    assert len(done.stderr.splitlines()) == 2


def test_a_folder_that_is_not_there_is_wrong_input(tmp_path: Path) -> None:
    done = season("plan", tmp_path / "nowhere", "--today", TODAY)
    assert done.exit_code == 2
    assert "nowhere" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_folder_that_cannot_be_written_is_exit_3_and_nothing_is_lost(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    (tmp_path / "taken").write_text("a note of the keeper", encoding="utf-8")
    done = season("plan", farm, "--today", TODAY, "--out", tmp_path / "taken" / "plan")
    assert done.exit_code == 3
    assert done.stderr.startswith("Nothing was written to ")
    assert (tmp_path / "taken").read_text(encoding="utf-8") == "a note of the keeper"
    assert not (farm / "plan").exists()


def test_stdout_of_json_is_the_plan_that_was_written_and_keeps_to_the_schema(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    done = season("plan", farm, "--today", TODAY, "--json")
    assert done.stdout == (farm / "plan" / "plan.json").read_text(encoding="utf-8")
    jsonschema.validate(json.loads(done.stdout), json.loads(season("schema").stdout))


@pytest.mark.parametrize("changes", [OUT_OF_COVER, FORBIDDEN_WISH], ids=["exposed", "stop"])
def test_a_plan_with_conflicts_keeps_to_the_schema(changes: dict[str, str], tmp_path: Path) -> None:
    done = season("plan", write(tmp_path / "farm", changes), "--today", TODAY, "--json")
    jsonschema.validate(json.loads(done.stdout), json.loads(season("schema").stdout))


def test_today_is_the_day_the_plan_is_made_for(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    for today in ("2027-04-20", "2027-06-03"):
        done = season("plan", farm, "--today", today, "--out", tmp_path / today, "--json")
        plan = json.loads(done.stdout)
        assert plan["made_for"] == today
        assert all(task["date"] >= today for task in plan["tasks"] if task["kind"] == "dose")


@pytest.mark.parametrize("wrong", [("--today", "1.5.2027"), ("--seconds", "-1"), ("--colour", "red")])
def test_wrong_usage_is_exit_2_and_nothing_is_written(wrong: tuple[str, str], tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    done = season("plan", farm, *wrong)
    assert done.exit_code == 2
    assert not (farm / "plan").exists()


@pytest.mark.parametrize(
    "content", [b"", b"{", b"[]", b'{"schema": "season-plan/1"}', b'{"schema": "other/7"}', b"\xff\xfe\x00"]
)
def test_a_broken_or_foreign_earlier_plan_is_a_clear_fault_and_is_left_as_it_is(content: bytes, tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    (farm / "plan").mkdir()
    (farm / "plan" / "plan.json").write_bytes(content)
    done = season("plan", farm, "--today", TODAY)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr.startswith("plan.json")
    assert len(done.stderr.splitlines()) == 1
    assert inside(farm / "plan") == ["plan.json"]
    assert (farm / "plan" / "plan.json").read_bytes() == content


def test_the_plan_of_another_farm_is_not_written_over(tmp_path: Path) -> None:
    one = write(tmp_path / "one")
    other = write(tmp_path / "other", {"farm.toml": (one / "farm.toml").read_text().replace("Test farm", "Other farm")})
    assert season("plan", one, "--today", TODAY, "--out", tmp_path / "plan").exit_code == 0
    kept = (tmp_path / "plan" / "plan.json").read_bytes()
    done = season("plan", other, "--today", TODAY, "--out", tmp_path / "plan")
    assert done.exit_code == 2
    assert "Test farm (invented)" in done.stderr
    assert (tmp_path / "plan" / "plan.json").read_bytes() == kept


def test_an_unconfirmed_label_makes_a_draft(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    label = farm / "labels" / "pour.toml"
    label.write_text(label.read_text().replace("checked = 2027-02-14\n", ""))
    plan = json.loads(season("plan", farm, "--today", TODAY, "--json").stdout)
    assert plan["draft"] is True
    assert "unconfirmed-label" in {one["rule"] for one in plan["conflicts"]}


def test_no_time_to_plan_still_writes_a_plan(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    done = season("plan", farm, "--today", TODAY, "--seconds", "0", "--json")
    assert done.exit_code in {0, 1}
    assert json.loads(done.stdout)["status"] in {"proved", "best-found"}
    assert inside(farm / "plan") == WRITTEN
