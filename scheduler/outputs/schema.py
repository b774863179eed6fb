"""The JSON Schemas of what other programs read, as `season schema` prints them."""

import json
from typing import Any

from scheduler.words import package_text

SCHEMAS = {
    "plan": "schema.json",
    "frontier": "frontier.schema.json",
    "changes": "changes.schema.json",
    "dose": "dose.schema.json",
    "push": "push.schema.json",
    "pull": "pull.schema.json",
    "risk": "risk.schema.json",
    "why": "why.schema.json",
    "years": "years.schema.json",
}
"""File of each schema (JSON Schema 2020-12) by the command whose JSON it describes."""


def schema_text(command: str = "plan") -> str:
    """The text of the schema that the JSON of a command keeps to; `plan` is `season-plan/1`, that of plan.json."""
    text = package_text("scheduler.outputs", SCHEMAS[command])
    return text if command != "frontier" else _with_plan(json.loads(text), json.loads(schema_text()))


def _with_plan(frontier: dict[str, Any], plan: dict[str, Any]) -> str:
    """The schema of frontiers with that of a plan in it, as one text that needs no other."""
    shared = plan.pop("$defs")
    for key in ("$schema", "$id"):
        del plan[key]
    return json.dumps(frontier | {"$defs": shared | {"plan": plan}}, indent=2, ensure_ascii=False) + "\n"
