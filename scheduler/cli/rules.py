"""season rules: what each rule asks, and why."""

import difflib
import json
import sys
from typing import TYPE_CHECKING

import click

from scheduler.cli.shared import WRONG_INPUT, json_option
from scheduler.cli.terminal import complain, tell, tell_json, width

if TYPE_CHECKING:
    from scheduler.outputs import Line
    from scheduler.rules import Rule


def _slugs(context: click.Context, parameter: click.Parameter, begun: str) -> list[str]:
    """Completion on Tab: the slugs of all rules."""
    from scheduler.rules import RULES

    return [rule.slug for rule in RULES if rule.slug.startswith(begun)]


@click.command(
    epilog="""\b
Examples:
  season rules
  season rules meat-withdrawal
  season rules --json
"""
)
@click.argument("slug", required=False, shell_complete=_slugs)
@json_option
def rules(slug: str | None, as_json: bool) -> None:
    """List every rule, or explain one: SLUG."""
    from scheduler.outputs import lines_text, table_lines
    from scheduler.rules import RULES

    chosen = [rule for rule in RULES if slug in (None, rule.slug)]
    if not chosen:
        near = difflib.get_close_matches(slug or "", [rule.slug for rule in RULES], n=1)
        hint = f'; did you mean "{near[0]}"?' if near else "; `season rules` lists them"
        complain(f'no rule is called "{slug}"{hint}')
        sys.exit(WRONG_INPUT)
    if as_json:
        tell_json(json.dumps([_value(rule) for rule in chosen], indent=1, ensure_ascii=False) + "\n")
    elif slug is None:
        rows = [(rule.severity, rule.slug, rule.title) for rule in chosen]
        tell(lines_text(table_lines((), rows, width())))
    else:
        tell(lines_text(_explained(chosen[0]), width()))


def _value(rule: "Rule") -> dict[str, object]:
    return {
        "slug": rule.slug,
        "title": rule.title,
        "why": rule.why,
        "severity": rule.severity,
        "family": rule.family,
        "sources": list(rule.sources),
    }


def _explained(rule: "Rule") -> "list[Line]":
    from scheduler.facts import facts
    from scheduler.outputs import Paragraph
    from scheduler.rules import examples

    return [
        f"{rule.slug} ({rule.severity})",
        "",
        Paragraph(rule.title, rest=""),
        Paragraph(rule.why, rest=""),
        "",
        *(Paragraph(f"Example: {example}") for example in examples(rule.slug)),
        "",
        "Sources:",
        *(Paragraph(facts().source(source).text, "  ", "    ") for source in rule.sources),
    ]
