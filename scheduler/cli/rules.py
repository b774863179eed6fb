"""season rules: what each rule asks, and why."""

import difflib
import json
import sys
from typing import TYPE_CHECKING

import click

from scheduler.cli.shared import WRONG_INPUT, json_option

if TYPE_CHECKING:
    from scheduler.rules import Rule


@click.command(
    epilog="""\b
Examples:
  season rules
  season rules meat-withdrawal
  season rules --json
"""
)
@click.argument("slug", required=False)
@json_option
def rules(slug: str | None, as_json: bool) -> None:
    """List every rule, or explain one: SLUG."""
    from scheduler.rules import RULES

    chosen = [rule for rule in RULES if slug in (None, rule.slug)]
    if not chosen:
        near = difflib.get_close_matches(slug or "", [rule.slug for rule in RULES], n=1)
        hint = f'; did you mean "{near[0]}"?' if near else "; `season rules` lists them"
        click.echo(f'no rule is called "{slug}"{hint}', err=True)
        sys.exit(WRONG_INPUT)
    if as_json:
        click.echo(json.dumps([_value(rule) for rule in chosen], indent=1, ensure_ascii=False))
    elif slug is None:
        for rule in chosen:
            click.echo(f"{rule.severity:5} {rule.slug:21} {rule.title}")
    else:
        click.echo(_explained(chosen[0]))


def _value(rule: "Rule") -> dict[str, object]:
    return {
        "slug": rule.slug,
        "title": rule.title,
        "why": rule.why,
        "severity": rule.severity,
        "family": rule.family,
        "sources": list(rule.sources),
    }


def _explained(rule: "Rule") -> str:
    from scheduler.facts import facts
    from scheduler.rules import examples

    lines = [f"{rule.slug} ({rule.severity})", "", rule.title, rule.why, ""]
    for example in examples(rule.slug):
        lines.append(f"Example: {example}")
    lines += ["", "Sources:", *(f"  {facts().source(source).text}" for source in rule.sources)]
    return "\n".join(lines)
