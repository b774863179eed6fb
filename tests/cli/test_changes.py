"""changes.json says what the plan changes against the one before, and the terminal says the same."""

import json
from pathlib import Path
from typing import Any

import jsonschema

from tests.cli.folder import FILES, TODAY, WRITTEN, season, write

RISK = FILES["risk.csv"]
SALES = "sale,group,head,date,purpose\nMart,Ewes,40,2027-07-{day},store\n"
LATER = {"sales.csv": SALES.format(day=21), "risk.csv": RISK.replace("06-30", "07-31")}


def changes(farm: Path, today: str = TODAY) -> tuple[dict[str, Any], str]:
    """changes.json after a planning, which keeps to its schema, and what the terminal said."""
    done = season("plan", farm, "--today", today)
    assert done.exit_code in (0, 1), done.output
    found: dict[str, Any] = json.loads((farm / "plan" / "changes.json").read_bytes())
    jsonschema.validate(found, json.loads(season("schema", "changes").stdout))
    return found, done.stdout


def test_a_first_plan_changes_nothing_and_says_so(tmp_path: Path) -> None:
    found, said = changes(write(tmp_path))
    assert found == {"schema": "season-changes/1", "made_for": TODAY, "since": None, "changes": []}
    assert "Changed" not in said


def test_a_plan_made_again_changes_nothing_since_the_first(tmp_path: Path) -> None:
    farm = write(tmp_path)
    changes(farm)
    before = {name: (farm / "plan" / name).read_bytes() for name in WRITTEN if name != "changes.json"}
    found, said = changes(farm)
    assert (found["since"], found["changes"]) == (TODAY, [])
    assert "Changed" not in said
    assert {name: (farm / "plan" / name).read_bytes() for name in before} == before


def test_each_change_is_told_with_what_was_and_what_is(tmp_path: Path) -> None:
    farm = write(tmp_path, {"sales.csv": SALES.format(day=20)})
    changes(farm)
    found, said = changes(write(tmp_path, LATER))
    tasks = {task["uid"]: task for task in json.loads((farm / "plan" / "plan.json").read_bytes())["tasks"]}
    (sale,) = (one for one in found["changes"] if one["kind"] == "sale")
    assert (sale["what"], sale["before"]["date"], sale["now"]["date"]) == (["moved"], "2027-07-20", "2027-07-21")
    assert (sale["before"]["sequence"], sale["now"]["sequence"]) == (0, 1)
    assert sale["text"] == "Sell Ewes, 40 head: Mart: from 20 Jul 2027 to 21 Jul 2027."
    for one in found["changes"]:
        task = tasks[one["uid"]]
        assert {key: task[key] for key in one["now"]} == one["now"]
        assert (one["before"] is None) == (task["sequence"] == 0)
    assert "Changed since the earlier plan:" in said


def test_the_terminal_says_the_same_in_the_same_order(tmp_path: Path) -> None:
    changes(write(tmp_path, {"sales.csv": SALES.format(day=20)}))
    found, said = changes(write(tmp_path, LATER))
    told = " ".join(said.partition("Changed since the earlier plan:")[2].partition("other changes")[0].split())
    first = [one["text"] for one in found["changes"][:6]]
    assert told == f"{' '.join(first)} and {len(found['changes']) - 6}"
    assert "in changes.json." in said


def test_the_other_files_do_not_depend_on_it(tmp_path: Path) -> None:
    """Without the file of before, and with another in its place, everything comes out the same."""
    farm = write(tmp_path)
    changes(farm)
    expected, _ = changes(farm)
    before = {name: (farm / "plan" / name).read_bytes() for name in WRITTEN}
    (farm / "plan" / "changes.json").write_text("no JSON", encoding="utf-8")
    assert changes(farm)[0] == expected
    (farm / "plan" / "changes.json").unlink()
    assert changes(farm)[0] == expected
    assert {name: (farm / "plan" / name).read_bytes() for name in WRITTEN} == before
