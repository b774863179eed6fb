"""season schema: the JSON Schema of plan.json."""

import click

from scheduler.cli.terminal import tell_json


@click.command(
    epilog="""\b
Example:
  season schema > season-plan.schema.json
"""
)
@click.option("--json", "as_json", is_flag=True, help="The same: the schema is JSON.")
def schema(as_json: bool) -> None:
    """Print the JSON Schema that every plan.json keeps to."""
    from scheduler.outputs import schema_text

    tell_json(schema_text())
