"""The JSON Schemas of what other programs read, as `season schema` prints them."""

from scheduler.words import package_text

SCHEMAS = {"plan": "schema.json", "dose": "dose.schema.json", "why": "why.schema.json"}
"""File of each schema (JSON Schema 2020-12) by the command whose JSON it describes."""


def schema_text(command: str = "plan") -> str:
    """The text of the schema that the JSON of a command keeps to; `plan` is `season-plan/1`, that of plan.json."""
    return package_text("scheduler.outputs", SCHEMAS[command])
