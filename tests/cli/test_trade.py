"""season plan --frontier and --at-most: what is written, what stdout holds, and where a budget is refused."""

import json
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import jsonschema
import pytest

from tests.cli.folder import FORBIDDEN_WISH, TODAY, WRITTEN, inside, season, write

WISH = {"wishes.csv": "date,group,label,use\n2027-06-01,Ewes,pour,guard\n"}
DOSE_OF_ALL = 7360
"""100 head, 20 ml each, at 92.00 for 2500 ml."""


def run(farm: Path, *words: str) -> Any:
    """The JSON that a run of plan prints."""
    done = season("plan", farm, "--today", TODAY, "--json", *words)
    assert done.stderr == ""
    return json.loads(done.stdout)


def figures(plan: Any) -> tuple[int, int]:
    """Exposure and money of a plan."""
    return plan["score"]["exposed_sheep_days"], plan["score"]["money_minor"]


def test_a_frontier_holds_every_undominated_plan_and_keeps_to_its_schema(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    told = run(farm, "--frontier")
    jsonschema.validate(told, json.loads(season("schema", "frontier").stdout))
    plan_schema = json.loads(season("schema").stdout)
    for plan in told["frontier"]:
        jsonschema.validate(plan, plan_schema)
    assert told["complete"]
    assert [figures(plan) for plan in told["frontier"]] == [(0, DOSE_OF_ALL), (3000, 0)]


def test_the_frontier_is_written_beside_the_plan_which_stays_as_it_is(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    run(farm, "--out", str(tmp_path / "with"), "--frontier")
    run(farm, "--out", str(tmp_path / "without"))
    assert inside(tmp_path / "with") == sorted([*WRITTEN, "frontier.json"])
    for name in ("calendar.ics", "plan.json", "tasks.csv"):
        assert (tmp_path / "with" / name).read_bytes() == (tmp_path / "without" / name).read_bytes()
    least = json.loads((tmp_path / "with" / "frontier.json").read_text())["frontier"][0]
    planned = json.loads((tmp_path / "with" / "plan.json").read_text())
    assert (least["tasks"], least["score"], least["days"]) == (planned["tasks"], planned["score"], planned["days"])


def test_stdout_of_json_is_the_file_and_the_same_again(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    done = season("plan", farm, "--today", TODAY, "--frontier", "--json")
    assert done.stdout == (farm / "plan" / "frontier.json").read_text(encoding="utf-8")
    again = season("plan", farm, "--today", TODAY, "--frontier", "--json", "--out", tmp_path / "again")
    assert again.stdout == done.stdout


def test_the_terminal_and_the_page_show_the_same_pairs(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    done = season("plan", farm, "--today", TODAY, "--frontier")
    assert "GBP 73.60" in done.stdout
    assert "Ewes/stay, blowfly strike: 1 to 30 Jun" in done.stdout
    assert "These are all such plans." in done.stdout
    page = ElementTree.fromstring((farm / "plan" / "summary.html").read_text(encoding="utf-8"))
    part = page.find(".//*[@id='trade']")
    assert part is not None
    words = " ".join("".join(part.itertext()).split())
    assert "3,000" in words
    assert "Ewes/stay, blowfly strike: 1 to 30 Jun" in words
    assert len([one for one in part.iter() if one.tag.endswith("circle")]) == 2


def test_without_it_nothing_of_it_is_shown(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    done = season("plan", farm, "--today", TODAY)
    assert "more money" not in done.stdout
    assert 'id="trade"' not in (farm / "plan" / "summary.html").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("budget", "expected"),
    [("0", (3000, 0)), ("73.59", (3000, 0)), ("73.60", (0, 7360)), ("73.609", (0, 7360)), ("1000", (0, 7360))],
)
def test_a_budget_is_read_exactly_and_its_own_sum_is_within_it(
    budget: str, expected: tuple[int, int], tmp_path: Path
) -> None:
    plan = run(write(tmp_path / "farm"), "--at-most", budget)
    assert figures(plan) == expected
    assert plan["status"] == "proved"


@pytest.mark.parametrize("budget", ["-1", "1e3", "nan", "45,00", "GBP 45", "", "1" * 40])
def test_no_amount_of_money_is_wrong_usage(budget: str, tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    done = season("plan", farm, "--today", TODAY, "--at-most", budget)
    assert done.exit_code == 2
    assert not (farm / "plan").exists()


def test_a_budget_under_the_accepted_wishes_is_refused_with_the_least_sum(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm", WISH)
    done = season("plan", farm, "--today", TODAY, "--at-most", "73.59", "--json")
    assert done.exit_code == 2
    assert "GBP 73.60" in done.stderr
    assert json.loads(done.stdout)["faults"][0]["found"] == "found 73.59"
    assert not (farm / "plan").exists()
    assert figures(run(farm, "--at-most", "73.60")) == (0, DOSE_OF_ALL)


def test_a_wish_that_is_refused_costs_nothing(tmp_path: Path) -> None:
    plan = run(write(tmp_path / "farm", FORBIDDEN_WISH), "--at-most", "0")
    assert figures(plan) == (3000, 0)


def test_a_plan_within_a_budget_says_so(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    done = season("plan", farm, "--today", TODAY, "--at-most", "50")
    assert done.exit_code == 1
    assert "no lawful plan of at most GBP 50.00 leaves fewer" in " ".join(done.stdout.split())
    assert "of at most GBP 50.00" in (farm / "plan" / "summary.html").read_text(encoding="utf-8")


def test_both_together_mark_the_plan_that_the_budget_chose(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    done = season("plan", farm, "--today", TODAY, "--at-most", "50", "--frontier")
    assert "* 3,000" in done.stdout
    assert figures(json.loads((farm / "plan" / "plan.json").read_text())) == (3000, 0)


def test_no_time_leaves_a_frontier_of_what_is_proved(tmp_path: Path) -> None:
    told = run(write(tmp_path / "farm"), "--frontier", "--seconds", "0")
    assert all(plan["status"] == "proved" for plan in told["frontier"])
    assert not told["complete"]
