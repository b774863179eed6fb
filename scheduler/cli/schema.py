"""season schema: the JSON Schemas of plan.json and of what commands print with --json."""

import click

from scheduler.cli.terminal import tell_json


@click.command(
    epilog="""\b
Examples:
  season schema > season-plan.schema.json
  season schema changes
  season schema frontier
  season schema dose
  season schema why
  season schema years
"""
)
@click.argument(
    "command",
    type=click.Choice(["plan", "changes", "frontier", "dose", "why", "risk", "push", "pull", "years"]),
    default="plan",
)
@click.option("--json", "as_json", is_flag=True, help="The same: the schema is JSON.")
def schema(command: str, as_json: bool) -> None:
    """Print the JSON Schema that every plan.json keeps to, or that of another COMMAND's --json."""
    from scheduler.outputs import schema_text

    tell_json(schema_text(command))
