"""The sample farms show the conflicts that their README files tell of."""

from datetime import date
from pathlib import Path

import pytest

from tests.oracle.compare import compare
from tests.outside.plans import SAMPLES, TODAY, planned, run_plan

TOLD: dict[str, set[tuple[str, str | None, str | None]]] = {
    "fellside": {
        ("cover-gap", "Late lambs/stay", "2027-05-12"),
        ("cover-gap", "Late lambs/stay", "2027-06-25"),
        ("cover-fading", "Early lambs/First draft", "2027-08-04"),
        ("sale-declaration", "Late lambs/Store sale", "2027-09-04"),
        ("handling-people", None, "2027-08-04"),
        ("handling-people", None, "2027-09-04"),
        ("same-group-again", "Ewe hoggs/stay", "2027-07-03"),
        ("same-group-again", "Tups/stay", "2027-07-03"),
    },
    "lowland-organic": {
        ("organic-withdrawal", "Meadow lambs/Early draft", "2027-06-14"),
        ("organic-prevention", None, None),
        ("high-challenge", "Meadow ewes/stay", "2027-05-01"),
    },
    "southern": {
        ("cover-gap", "Bought hoggs/stay", "2027-10-05"),
        ("arrival-isolation", None, None),
        ("order-time", None, None),
        ("stock-short", None, None),
    },
}
BARE_COHORTS = {
    "fellside": {"Early lambs/First draft", "Late lambs/Store sale", "Late lambs/stay"},
    "lowland-organic": {"Meadow lambs/Early draft", "Milking ewes/stay", "Rams/stay"},
    "southern": {"Bought hoggs/stay"},
}


@pytest.mark.parametrize("farm", TODAY)
def test_the_conflicts_that_are_told_of_are_there(farm: str) -> None:
    found = {(one["rule"], one["cohort"], one["date"]) for one in planned(farm).plan["conflicts"]}
    assert TOLD[farm] <= found


@pytest.mark.parametrize("farm", TODAY)
def test_no_other_cohort_is_left_bare(farm: str) -> None:
    runs = planned(farm).plan["days"]
    assert {run["cohort"] for run in runs if run["state"] in {"exposed", "fading"}} == BARE_COHORTS[farm]


@pytest.mark.parametrize("farm", TODAY)
def test_every_sample_plan_is_a_draft(farm: str) -> None:
    assert planned(farm).plan["draft"]


def test_light_lambs_are_given_the_second_tick_dose_on_the_gather_three_weeks_later() -> None:
    tasks = planned("fellside").plan["tasks"]
    dates = {task["uid"]: task["date"] for task in tasks}
    repeats = {(dates[task["repeat_of"]], task["date"]) for task in tasks if task["repeat_of"]}
    assert repeats == {("2027-05-12", "2027-06-02"), ("2027-06-02", "2027-06-23")}


def test_the_boat_sails_on_the_first_day_clear_for_export() -> None:
    doses = [task for task in planned("southern").plan["tasks"] if task["cohort"] == "Wethers/Boat"]
    assert max(task["clear"]["export"] for task in doses if task["kind"] == "dose") == "2028-01-18"


def test_the_second_reckoning_agrees_with_the_plan_of_the_hill_farm() -> None:
    today = date.fromisoformat(TODAY["fellside"])
    assert compare(SAMPLES / "fellside", planned("fellside").plan, today) == []


@pytest.mark.parametrize("farm", TODAY)
def test_a_farm_planned_again_as_it_was_stays_as_it_is(farm: str, tmp_path: Path) -> None:
    first = run_plan(SAMPLES / farm, tmp_path, TODAY[farm])
    again = run_plan(SAMPLES / farm, tmp_path, TODAY[farm])
    assert first.plan == again.plan
