"""The sources that a plan's reasons and conflicts rest on."""

from collections.abc import Iterable

from scheduler.facts import facts
from scheduler.plan.model import SourceLine
from scheduler.rules import RULES


def sources_of(slugs: Iterable[str]) -> tuple[SourceLine, ...]:
    """The source lines of the rules named, each once, in the order of the rules."""
    named = set(slugs)
    ids = dict.fromkeys(source for rule in RULES if rule.slug in named for source in rule.sources)
    return tuple(SourceLine(source, facts().source(source).text) for source in ids)
