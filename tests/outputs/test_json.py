"""plan.json: exact, keys in order, and true to its schema (JSON Schema 2020-12, by the jsonschema library)."""

import json
from copy import deepcopy
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from scheduler.outputs import frontier_json, json_text, plan_json, schema_text
from scheduler.report import SeasonReport
from tests.outputs.conftest import Snapshot
from tests.outputs.plans import REPORTS, empty_report, rich_report

SCHEMA: dict[str, Any] = json.loads(schema_text())
CHECK = Draft202012Validator(SCHEMA, format_checker=Draft202012Validator.FORMAT_CHECKER)


def exact(text: str) -> Any:
    """JSON with every number as the decimal that is written."""
    return json.loads(text, parse_float=Decimal)


@pytest.fixture(params=REPORTS)
def report(request: pytest.FixtureRequest) -> SeasonReport:
    """Each report built by hand."""
    return REPORTS[request.param]()


def test_the_schema_is_a_schema() -> None:
    Draft202012Validator.check_schema(SCHEMA)


def test_every_plan_keeps_to_the_schema(report: SeasonReport) -> None:
    assert [error.message for error in CHECK.iter_errors(json.loads(plan_json(report)))] == []


def objects(schema: Any) -> list[dict[str, Any]]:
    """Every object that the schema describes."""
    inner = schema.values() if isinstance(schema, dict) else schema if isinstance(schema, list) else ()
    own = [schema] if isinstance(schema, dict) and schema.get("type") == "object" else []
    return own + [found for part in inner for found in objects(part)]


def test_the_schema_lets_no_unknown_key_pass() -> None:
    described = [schema for schema in objects(SCHEMA) if "properties" in schema]
    assert len(described) > 10
    assert all(schema["additionalProperties"] is False for schema in described)


@pytest.mark.parametrize(
    ("place", "key", "value"),
    [
        ((), "surplus", 1),
        ((), "status", "best"),
        ((), "gap", None),
        (("tasks", 0), "date", "2027-13-40"),
        (("tasks", 0), "head", 0),
        (("tasks", 0), "dose_ml", "10"),
        (("tasks", 0), "kind", "spray"),
        (("days", 0), "level", 1.5),
        (("conflicts", 0, "choices", 0), "decides", "neighbour"),
        (("conflicts", 0), "where", {"row": 4}),
        (("shopping", 0, "packs", 0), "count", 0),
    ],
)
def test_the_schema_refuses(place: tuple[str | int, ...], key: str, value: object) -> None:
    plan = json.loads(plan_json(rich_report()))
    part = plan
    for step in place:
        part = part[step]
    part[key] = value
    assert not CHECK.is_valid(plan)


def test_the_schema_misses_every_key_that_is_left_out() -> None:
    plan = json.loads(plan_json(rich_report()))
    for key in plan:
        short = deepcopy(plan)
        del short[key]
        assert not CHECK.is_valid(short), key
    for key in plan["tasks"][0]:
        short = deepcopy(plan)
        del short["tasks"][0][key]
        assert not CHECK.is_valid(short), key


def test_the_keys_stand_in_the_order_that_is_promised() -> None:
    plan = json.loads(plan_json(rich_report()))
    assert " ".join(plan) == (
        "schema made_for draft farm season status gap score cohorts tasks days conflicts shopping sources"
    )
    assert " ".join(plan["tasks"][0]) == (
        "uid sequence kind date cohort group head label use targets repeat_of dose_ml task_ml heaviest_kg age_days "
        "protects clear money_minor text because status"
    )
    assert " ".join(plan["conflicts"][0]) == "rule severity cohort group date text where clash choices"
    assert " ".join(plan["score"]) == "exposed_sheep_days money_minor currency handlings gathers"


def test_numbers_are_written_by_their_own_digits() -> None:
    assert json_text([Decimal("22.40"), Decimal("1E+3"), Decimal("0.1"), Decimal("-0.0"), 7, True, None]) == (
        "[\n 22.4,\n 1000,\n 0.1,\n 0,\n 7,\n true,\n null\n]\n"
    )


@settings(deadline=None)
@given(st.decimals(allow_nan=False, allow_infinity=False, places=6, min_value=-(10**9), max_value=10**9))
def test_a_decimal_comes_back_as_it_went(value: Decimal) -> None:
    assert Decimal(json_text(value).strip()) == value


@settings(deadline=None)
@given(st.recursive(st.text() | st.integers() | st.booleans() | st.none(),
                    lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner)))  # fmt: skip
def test_other_values_come_back_as_they_went(value: Any) -> None:
    assert json.loads(json_text(value)) == value


def test_the_heaviest_stands_at_two_decimals_half_up() -> None:
    doses = [task for task in exact(plan_json(rich_report()))["tasks"] if task["kind"] == "dose"]
    assert {task["heaviest_kg"] for task in doses} == {Decimal("22.41")}  # 22.405 in the plan
    assert {task["dose_ml"] for task in doses} == {Decimal("10.5")}


def test_letters_stand_as_they_are() -> None:
    assert "Ütz" in plan_json(REPORTS["hostile"]())
    assert json_text("ö\n\x00") == '"ö\\n\\u0000"\n'


def test_a_frontier_holds_whole_plans() -> None:
    plan = empty_report().plan
    told = json.loads(frontier_json([plan, plan], complete=True))
    assert list(told) == ["schema", "complete", "frontier"]
    assert told["complete"] is True
    assert told["frontier"] == [json.loads(plan_json(empty_report()))] * 2


def test_the_rich_plan_as_kept(snapshot: Snapshot) -> None:
    snapshot("rich.json", plan_json(rich_report()).encode())
