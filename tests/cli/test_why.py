"""season why: the answers of a farm small enough to reckon by hand, its JSON, and names that mean no task.

The farm: 100 ewes, flies out from 1 to 30 June, one label that covers 42 days, 20 ml a head at 92.00 for 2500 ml.
"""

import json
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from click.testing import CliRunner

from scheduler.cli import main
from tests.cli.folder import FILES, TODAY, inside, season, write

PAID = {"farm.toml": FILES["farm.toml"].replace('currency = "GBP"', 'currency = "GBP"\nlabour_per_hour = 12')}
SOLD = {
    "sales.csv": "sale,group,head,date,purpose,move_days\nMart,Ewes,100,2027-06-12,slaughter,3\n",
    "risk.csv": "target,from,to,level\nblowfly-strike,2027-06-05,2027-06-30,0.6\n",
}
DEARER = {
    "labels/dear.toml": FILES["labels/pour.toml"].replace("Demo pour-on", "Demo dear").replace("92.00", "93.00"),
    "labels/lamb.toml": FILES["labels/pour.toml"].replace("Demo pour-on", "Demo lamb").replace(
        'purpose = "prevent"', 'purpose = "prevent"\nkinds = ["lamb"]'),
}  # fmt: skip


def why(farm: Path, task: str, *words: str) -> dict[str, Any]:
    """What `season why --json` says of a task."""
    done = season("why", farm, task, "--today", TODAY, "--json", *words)
    assert (done.exit_code, done.stderr) == (0, "")
    found: dict[str, Any] = json.loads(done.stdout)
    return found


def planned(farm: Path, **wanted: str) -> dict[str, Any]:
    """The first task of the plan with these values."""
    plan = json.loads(season("plan", farm, "--today", TODAY, "--json").stdout)
    task: dict[str, Any] = next(task for task in plan["tasks"] if wanted.items() <= task.items())
    return task


def test_a_dose_has_the_days_on_which_its_42_days_still_cover_june(tmp_path: Path) -> None:
    farm = write(tmp_path)
    told = why(farm, "Ewes@2027-05-20")
    assert told["date"] == "2027-05-20"
    assert [told[side] for side in ("earliest", "latest")] == [
        {"date": "2027-05-20", "rule": "cover-gap",
         "text": "On 19 May 2027 it would leave 100 sheep-days more exposed."},
        {"date": "2027-06-01", "rule": "cover-gap",
         "text": "On 2 Jun 2027 it would leave 100 sheep-days more exposed."},
    ]  # fmt: skip


def test_leaving_the_only_dose_out_exposes_100_ewes_for_30_days_and_saves_its_price(tmp_path: Path) -> None:
    told = why(write(tmp_path), "Ewes@2027-05-20")
    assert told["buys"] == {"exposed_sheep_days": 3000, "money_minor": -7360, "handlings": -1}


def test_the_next_best_day_is_the_nearest_that_costs_nothing(tmp_path: Path) -> None:
    told = why(write(tmp_path), "Ewes@2027-05-20")
    assert told["next_best"] == {"date": "2027-05-21", "exposed_sheep_days": 0, "money_minor": 0, "handlings": 0}


def test_with_no_other_day_the_next_best_is_to_leave_it_out(tmp_path: Path) -> None:
    events = {
        "events.csv": "date,what,groups\n2027-06-01,gather,Ewes\n",
        "mobs.csv": "mob,gather_on\nEwes,events\n",
    }
    told = why(write(tmp_path, events), "Ewes@2027-06-01")
    assert told["next_best"] == {"date": None, **told["buys"]}
    assert told["buys"] == {"exposed_sheep_days": 3000, "money_minor": -7360, "handlings": -1}
    assert [told[side]["rule"] for side in ("earliest", "latest")] == ["closed-day", "cover-gap"]


def test_a_closed_day_sets_a_bound_only_where_nothing_is_lost_on_it(tmp_path: Path) -> None:
    """31 May and 1 June are closed and would still cover June whole; 2 June would not."""
    closed = {"farm.toml": FILES["farm.toml"] + '[work]\nclosed = ["2027-05-31", "2027-06-01"]\n'}
    told = why(write(tmp_path, closed), "Ewes@2027-05-20")
    assert (told["latest"]["date"], told["latest"]["rule"]) == ("2027-05-30", "closed-day")
    assert told["latest"]["text"] == (
        '31 May 2027 is closed ("2027-05-31") (farm.toml, work.closed[1]). '
        "On 2 Jun 2027 it would leave 100 sheep-days more exposed."
    )


def test_a_sale_for_slaughter_sets_the_last_day_and_lead_days_the_first(tmp_path: Path) -> None:
    told = why(write(tmp_path, SOLD), "Ewes@2027-05-15")
    assert {side: (told[side]["date"], told[side]["rule"]) for side in ("earliest", "latest")} == {
        "earliest": ("2027-05-15", "too-early"), "latest": ("2027-06-03", "meat-withdrawal"),
    }  # fmt: skip
    assert "(sales.csv, row 2)" in told["latest"]["text"]


def test_a_sale_may_be_from_the_clear_date_on_and_move_by_its_days(tmp_path: Path) -> None:
    told = why(write(tmp_path, SOLD), "Ewes@2027-06-12")
    assert told["earliest"]["date"] == "2027-05-24"
    assert told["earliest"]["rule"] == "meat-withdrawal"
    assert told["latest"] == {"date": "2027-06-15", "rule": None, "text": "It may move by 3 days (sales.csv, row 2)."}
    assert (told["next_best"], told["buys"]) == (None, None)


@pytest.mark.parametrize("changes", [{}, SOLD, PAID], ids=["plain", "sold", "paid"])
def test_every_task_of_a_plan_can_be_explained_by_its_uid(changes: Mapping[str, str], tmp_path: Path) -> None:
    farm = write(tmp_path, changes)
    plan = json.loads(season("plan", farm, "--today", TODAY, "--json").stdout)
    before = {name: (farm / name).read_bytes() for name in inside(farm)}
    for task in plan["tasks"]:
        told = why(farm, task["uid"])
        jsonschema.validate(told, json.loads(season("schema", "why").stdout))
        assert list(told) == ["task", "date", "because", "earliest", "latest", "next_best", "buys"]
        assert (told["task"], told["date"]) == (task["uid"], task["date"])
        assert told["because"][: len(task["because"])] == [
            {**one, "where": told["because"][n]["where"]} for n, one in enumerate(task["because"])
        ]
        assert told["because"]
    assert {name: (farm / name).read_bytes() for name in inside(farm)} == before


def test_a_reason_names_the_row_that_it_rests_on(tmp_path: Path) -> None:
    because = {one["rule"]: one["where"] for one in why(write(tmp_path, SOLD), "Ewes@2027-05-15")["because"]}
    assert because["cover-gap"] == {"file": "groups.csv", "row": 2}
    assert because["meat-withdrawal"] == {"file": "sales.csv", "row": 2}


def test_what_people_read_names_days_room_worth_and_other_labels(tmp_path: Path) -> None:
    done = season("why", write(tmp_path, DEARER), "Ewes@2027-05-20", "--today", TODAY)
    text = " ".join(done.stdout.split())
    assert done.exit_code == 0
    for words in (
        "Room to move, all else as planned: to Tue 1 Jun 2027 free; from Wed 2 Jun 2027 100 sheep-days a day.",
        "Next best day, all planned again: Fri 21 May 2027: 0 exposed sheep-days, GBP 0.00, 0 handlings.",
        "3,000 exposed sheep-days more, GBP 73.60 less, 1 handling fewer.",
        "Demo dear (invented) (guard): 0 exposed sheep-days, GBP 0.80 more.",
        'use-on-label: Demo lamb (invented) (guard): On 20 May 2027: the use "guard" is for lamb; Ewes are ewe',
        "The label and leaflet in hand come before this plan",
    ):
        assert words in text, words


def test_a_label_that_nobody_confirmed_is_called_so_where_it_is_offered(tmp_path: Path) -> None:
    unconfirmed = {name: text.replace("checked = 2027-02-14\n", "") for name, text in DEARER.items()}
    done = season("why", write(tmp_path, unconfirmed), "Ewes@2027-05-20", "--today", TODAY)
    assert "Demo dear (invented) (guard, label not confirmed): 0" in " ".join(done.stdout.split())


def test_a_wished_dose_stands_on_the_day_that_was_asked_for(tmp_path: Path) -> None:
    wishes = {"wishes.csv": "date,group,label,use\n2027-05-25,Ewes,pour,guard\n"}
    told = why(write(tmp_path, wishes), "Ewes@2027-05-25")
    asked = {"date": "2027-05-25", "rule": "use-on-label", "text": "Asked for on this day (wishes.csv, row 2)."}
    assert (told["earliest"], told["latest"]) == (asked, asked)
    assert told["buys"] == {"exposed_sheep_days": 3000, "money_minor": -7360, "handlings": -1}
    assert told["next_best"]["date"] == "2027-05-24"


def test_out_says_which_plan_and_its_uids_are_those_explained(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm")
    season("plan", farm, "--today", TODAY, "--out", tmp_path / "barn")
    plan = json.loads((tmp_path / "barn" / "plan.json").read_text(encoding="utf-8"))
    dose = next(task for task in plan["tasks"] if task["kind"] == "dose")
    assert why(farm, dose["uid"], "--out", str(tmp_path / "barn"))["date"] == dose["date"]


@pytest.mark.parametrize(
    ("name", "mend"),
    [
        ("Ewes@2027-05-22", 'did you mean "Ewes@2027-05-20"?'),
        ("ewes@2027-05-20", 'did you mean "Ewes@2027-05-20"?'),
        ("Ews@2027-07-01", 'did you mean "Ewes@2027-05-20"?'),
        ("Ewes", 'did you mean "Ewes@2027-05-20"?'),
        ("zzz", 'a task is named so: "Ewes@2027-05-20".'),
        ("zzz@2027-07-01", 'a task is named so: "Ewes@2027-05-20".'),
    ],
)
def test_a_name_of_no_task_is_exit_2_with_the_nearest(name: str, mend: str, tmp_path: Path) -> None:
    farm = write(tmp_path)
    done = season("why", farm, name, "--today", TODAY)
    assert (done.exit_code, done.stdout) == (2, "")
    assert done.stderr == f'TASK: found "{name}"; expected the uid of a task, or GROUP@DATE; {mend}\n'


def test_a_mistyped_uid_is_mended_by_the_nearest_and_told_as_json_too(tmp_path: Path) -> None:
    farm = write(tmp_path)
    uid = planned(farm, kind="dose")["uid"]
    done = season("why", farm, uid[:-1] + "~", "--today", TODAY, "--json")
    assert done.exit_code == 2
    assert json.loads(done.stdout)["faults"][0]["mend"] == f'did you mean "{uid}"?'


def test_faults_of_the_folder_come_first(tmp_path: Path) -> None:
    done = season("why", write(tmp_path, {"groups.csv": "group,kind,head\nEwes,ewe,0\n"}), "Ewes@2027-05-20")
    assert done.exit_code == 2
    assert done.stderr.startswith("groups.csv, row 2, head")


def test_a_dose_given_is_explained_by_what_was_recorded(tmp_path: Path) -> None:
    record = {"record.csv": "date,group,label,use,head\n2027-05-01,Ewes,pour,guard,100\n"}
    told = why(write(tmp_path, record), "Ewes@2027-05-01")
    assert date.fromisoformat(told["date"]) == date(2027, 5, 1)
    assert [told[key] for key in ("earliest", "latest", "next_best", "buys")] == [None] * 4


def test_tab_completes_group_and_day_of_planned_doses(tmp_path: Path) -> None:
    farm = write(tmp_path)
    season("plan", farm, "--today", TODAY)
    for begun, offered in (("E", "plain,Ewes@2027-05-20\n"), ("L", "\n")):
        environment = {
            "_SEASON_COMPLETE": "bash_complete", "COMP_WORDS": f"season why {farm} {begun}", "COMP_CWORD": "3",
        }  # fmt: skip
        assert CliRunner().invoke(main, [], prog_name="season", env=environment).stdout == offered


TWO_GROUPS = {
    "groups.csv": "group,kind,head,heaviest_kg,lightest_kg,weighed_on\n"
    "Ewes,ewe,100,75,55,2027-04-20\nHoggs,hogg,50,50,40,2027-04-20\n"
}
"""A dose of the ewes costs 73.60, one of the hoggs 36.80."""


def test_a_dose_within_a_budget_is_explained_in_its_own_plan_and_nothing_is_planned_again(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm", TWO_GROUPS)
    season("plan", farm, "--today", TODAY, "--at-most", "80")
    done = season("why", farm, "Ewes@2027-05-20", "--today", TODAY, "--at-most", "80")
    assert (done.exit_code, done.stderr) == (0, "")
    assert "Within a budget nothing is planned again" in done.stdout
    told = why(farm, "Ewes@2027-05-20", "--at-most", "80")
    assert told["buys"] is None
    assert told["next_best"]["date"] == "2027-05-21"
    assert "Hoggs@2027-05-20" in season("why", farm, "Hoggs@2027-05-20", "--today", TODAY, "--at-most", "80").stderr


def test_a_plan_of_other_doses_than_those_explained_is_named(tmp_path: Path) -> None:
    farm = write(tmp_path / "farm", TWO_GROUPS)
    season("plan", farm, "--today", TODAY, "--at-most", "80")
    done = season("why", farm, "Ewes@2027-05-20", "--today", TODAY)
    assert done.exit_code == 0
    assert done.stderr.startswith("The plan in the folder has other doses than the one explained here")


def test_a_budget_under_what_is_owed_is_refused(tmp_path: Path) -> None:
    wish = {"wishes.csv": "date,group,label,use\n2027-06-01,Ewes,pour,guard\n"}
    done = season("why", write(tmp_path / "farm", wish), "Ewes@2027-05-20", "--today", TODAY, "--at-most", "73.59")
    assert done.exit_code == 2
    assert "GBP 73.60" in done.stderr
