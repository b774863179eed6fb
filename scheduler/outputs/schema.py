"""The JSON Schema of plan.json, as `season schema` prints it."""

from scheduler.words import package_text


def schema_text() -> str:
    """The text of the schema `season-plan/1` (JSON Schema 2020-12)."""
    return package_text("scheduler.outputs", "schema.json")
