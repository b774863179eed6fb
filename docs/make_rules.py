"""Makes docs/rules.md, the page of all rules, from the rules themselves and their cases.

`python docs/make_rules.py` writes it anew; a test fails where the page is not the one that the rules make.
"""

from itertools import groupby
from pathlib import Path

from scheduler.facts import facts
from scheduler.rules import RULES, Rule, cases, examples

PAGE = Path(__file__).parent / "rules.md"
SEVERITIES = {
    "stop": "The label, the law, the calendar or the body forbids it: never planned.",
    "warn": "Allowed, and said in the plan.",
    "note": "Good to know.",
}
FAMILIES = {
    "dose": "One dose, and doses of one cohort",
    "sales": "Sales, milk and shearing",
    "work": "Gathers, closed days, hands and stock",
    "cover": "Days at risk and findings",
    "records": "What is written down",
}
HEAD = """# Rules

Made by `python docs/make_rules.py` from the rules and their cases; change those, not this page.
Farms, sheep and medicines of the examples are invented. The label in hand, the vet and the law where you farm come
before anything that stands here.
"""


def page() -> str:
    """The page as Markdown."""
    families = [_family(family, list(rules)) for family, rules in groupby(_in_order(), key=lambda rule: rule.family)]
    return "\n".join([HEAD, _severities(), *families])


def _in_order() -> list[Rule]:
    return sorted(RULES, key=lambda rule: list(FAMILIES).index(rule.family))


def _severities() -> str:
    return "\n".join(["| | |", "|---|---|", *(f"| **{name}** | {text} |" for name, text in SEVERITIES.items()), ""])


def _family(family: str, rules: list[Rule]) -> str:
    return "\n".join([f"## {FAMILIES[family]}", "", *map(_rule, rules)])


def _rule(rule: Rule) -> str:
    lines = [f"### {rule.slug} ({rule.severity})", "", rule.title, rule.why, ""]
    if rule.sets_aside:
        lines += ["A vet's written direction may set it aside for doses that the keeper wishes or has given.", ""]
    lines += [*(f"- Example: {example}" for example in examples(rule.slug)), ""]
    lines += ["| case | |", "|---|---|", *(f"| {case.name} | {case.verdict} |" for case in cases(rule.slug)), ""]
    lines += ["Sources: " + "; ".join(facts().source(source).text for source in rule.sources) + ".", ""]
    return "\n".join(lines)


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
