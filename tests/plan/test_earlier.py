"""plan.json read back: what we wrote comes back as it was, all else is a fault."""

import json
from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.plan.earlier import EarlierPlan, of_another_farm, planned_firsts, read_earlier
from scheduler.plan.model import Because, Clear, Protects, Task
from scheduler.season import Season
from scheduler.words import Fault
from tests.plan.flock import (
    BEFORE,
    END,
    START,
    dose,
    farm,
    may,
    plan_of,
    tasks_of,
)

Row = dict[str, Any]
TASK: Row = {
    "uid": "a", "sequence": 2, "kind": "dose", "date": "2027-05-20", "cohort": "Ewes/stay", "group": "Ewes", "head": 50,
    "label": "fly", "use": "guard", "targets": ["blowfly-strike"], "repeat_of": None, "dose_ml": 10, "task_ml": 500,
    "heaviest_kg": 22.4, "age_days": None, "protects": {"from": "2027-05-20", "to": "2027-06-30", "fades_until": None},
    "clear": {"meat": "2027-05-29", "milk": None, "export": None, "wool": None}, "money_minor": 1840, "text": "Give",
    "because": [{"rule": "cover-gap", "text": "flies"}], "status": "planned",
}  # fmt: skip
PLAN: Row = {
    "schema": "season-plan/1", "made_for": "2027-04-01", "farm": {"id": "invented"},
    "season": {"start": "2027-05-01", "end": "2027-09-30"}, "tasks": [TASK],
}  # fmt: skip


def read(plan: Row) -> EarlierPlan | Fault:
    """The plan read from its JSON."""
    return read_earlier(json.dumps(plan).encode())


def test_a_plan_comes_back_as_it_was_written() -> None:
    task = Task(
        uid="a", sequence=2, kind="dose", day=may(20), cohort="Ewes/stay", group="Ewes", head=50, label="fly",
        use="guard", targets=("blowfly-strike",), dose_ml=Decimal(10), task_ml=Decimal(500),
        heaviest_kg=Decimal("22.4"), protects=Protects(may(20), may(61), None),
        clear=Clear(may(29), None, None, None), money_minor=1840, text="Give", because=(Because("cover-gap", "flies"),),
    )  # fmt: skip
    assert read(PLAN) == EarlierPlan(farm_id="invented", start=START, end=END, made_for=BEFORE, tasks=(task,))


@pytest.mark.parametrize(
    "change",
    [
        lambda plan: plan.update(schema="season-plan/2"),
        lambda plan: plan.pop("season"),
        lambda plan: plan.update(tasks={}),
        lambda plan: plan.update(tasks=[TASK, TASK]),
        lambda plan: plan["tasks"][0].update(date="2027-02-30"),
        lambda plan: plan["tasks"][0].update(date="20270520"),
        lambda plan: plan["tasks"][0].update(status="lost"),
        lambda plan: plan["tasks"][0].update(sequence=True),
        lambda plan: plan["tasks"][0].update(head="50"),
        lambda plan: plan["tasks"][0].update(cohort=None),
        lambda plan: plan["tasks"][0].update(text="\ud800"),
        lambda plan: plan["tasks"][0].update(targets=["midges"]),
        lambda plan: plan["tasks"][0].pop("clear"),
    ],
)
def test_a_plan_that_is_not_as_we_write_it_is_a_fault(change: Callable[[Row], object]) -> None:
    plan = json.loads(json.dumps(PLAN))
    change(plan)
    fault = read(plan)
    assert isinstance(fault, Fault)
    assert "move it away" in fault.mend


@pytest.mark.parametrize(
    "data",
    [b"", b"\xff\xfe", b"[" * 100_000, b"[1e999]", b'{"schema": NaN}', b"9" * 5000, b"null", b"[]",
     json.dumps(PLAN).replace("22.4", "1e999999").encode(), json.dumps(PLAN).replace("22.4", "NaN").encode()],
)  # fmt: skip
def test_a_file_that_is_no_plan_is_a_fault(data: bytes) -> None:
    assert isinstance(read_earlier(data), Fault)


@given(st.binary(max_size=200))
def test_no_bytes_raise(data: bytes) -> None:
    assert isinstance(read_earlier(data), Fault)


def test_the_fault_names_what_is_wrong() -> None:
    plan = json.loads(json.dumps(PLAN))
    plan["tasks"][0]["status"] = "lost"
    assert str(read(plan)) == (
        "plan.json: found a plan in which status is no word that we know; expected a plan of schema season-plan/1, as "
        "`season plan` writes it; move it away and plan again: tasks then get new numbers."
    )


def test_the_plan_of_another_farm_is_a_fault() -> None:
    earlier = read(PLAN)
    assert isinstance(earlier, EarlierPlan)
    assert of_another_farm(earlier, "invented") is None
    assert isinstance(of_another_farm(earlier, "other"), Fault)


def test_first_doses_are_known_by_cohort_and_by_group() -> None:
    season = Season(farm(), BEFORE)
    ours = [dose(season, may(20)), dose(season, may(41), first_day=may(20))]
    assert planned_firsts(plan_of(season, tasks_of(season, ours))) == {
        ("Ewes/stay", "fly", "guard", may(20)), ("Ewes", "fly", "guard", may(20))}  # fmt: skip
