"""What every rule must have, whatever it says: a file of its name, words, sources, one statement, and cases."""

from datetime import date
from importlib import import_module
from pathlib import Path

import pytest

import scheduler
from scheduler.facts import facts
from scheduler.rules import RULES, Rule, cases, examples

FOLDER = Path(scheduler.__file__).parent / "rules"
ABOUT_DAYS = {
    "use-on-label", "youngest-age", "dose-band", "lamb-repeat", "repeat-interval", "fleece-weeks", "product-clash",
    "meat-withdrawal", "export-interval", "wool-interval", "organic-withdrawal", "off-label-withdrawal",
    "repeat-before-sale", "closed-day", "away", "lambing-quiet", "cover-gap", "cover-fading", "too-early",
    "sale-declaration", "unconfirmed-label", "infested-now", "ended-by-shearing", "lambs-at-foot", "draw-and-mark",
    "same-group-again", "high-challenge", "dirty-fleece", "handling-people", "order-time", "stock-short", "expired",
    "movement-stop", "arrival-isolation", "turnout-to-ticks",
}  # fmt: skip
"""Rules that hold from one day on and not on the day before, or the other way."""

BY_SEVERITY = {
    "stop": {
        "use-on-label", "youngest-age", "dose-band", "lamb-repeat", "repeat-interval", "season-maximum", "fleece-weeks",
        "product-clash", "meat-withdrawal", "milk-withdrawal", "export-interval", "wool-interval", "organic-withdrawal",
        "off-label-withdrawal", "repeat-before-sale", "closed-day", "daily-head", "away", "lambing-quiet",
    },
    "warn": {
        "cover-gap", "too-early", "weight-spread", "same-group-again", "high-challenge", "dirty-fleece", "dry-weather",
        "handling-people", "sale-declaration", "movement-stop", "order-time", "stock-short", "expired",
        "unconfirmed-label", "infested-now", "default-risk", "countries-unstated", "arrival-isolation",
        "organic-prevention",
    },
    "note": {
        "cover-fading", "turnout-to-ticks", "ended-by-shearing", "lambs-at-foot", "draw-and-mark", "competence",
        "water-care", "record-complete", "record-kept-until", "country-unknown", "label-unusable",
    },
}  # fmt: skip

each_rule = pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)


def sentences(text: str) -> int:
    """How many sentences a text has."""
    return sum(text.count(end) for end in (". ", "! ", "? ")) + 1


@pytest.mark.parametrize("severity", BY_SEVERITY)
def test_every_rule_that_other_programs_may_meet_is_there_with_its_severity(severity: str) -> None:
    assert {rule.slug for rule in RULES if rule.severity == severity} == BY_SEVERITY[severity]


@each_rule
def test_a_rule_stands_in_the_file_of_its_slug(rule: Rule) -> None:
    module = import_module(f"scheduler.rules.{rule.family}.{rule.slug.replace('-', '_')}")
    assert module.RULE is rule


def test_every_rule_file_is_in_the_catalogue_once() -> None:
    files = [
        path for family in ("dose", "sales", "work", "cover", "records") for path in (FOLDER / family).glob("*.py")
    ]
    written = sorted(path.stem.replace("_", "-") for path in files if path.stem != "__init__")
    assert written == sorted(rule.slug for rule in RULES)


def test_every_file_of_cases_belongs_to_a_rule() -> None:
    files = {path.stem for path in (FOLDER / "cases").glob("*.toml")}
    assert files == {"base", *(rule.slug for rule in RULES)}


@each_rule
def test_a_rule_is_stated_in_one_of_the_six_ways(rule: Rule) -> None:
    ways = (rule.dose, rule.course, rule.apart, rule.count, rule.whole, rule.instead)
    assert sum(way is not None for way in ways) == 1


@each_rule
def test_every_source_of_a_rule_and_of_its_cases_is_known(rule: Rule) -> None:
    named = {*rule.sources, *(case.source for case in cases(rule.slug) if case.source)}
    assert rule.sources
    assert named <= set(facts().sources)


@each_rule
def test_title_and_reason_are_plain_sentences_and_two_at_most(rule: Rule) -> None:
    for text in (rule.title, rule.why):
        assert text.strip() == text
        assert text.endswith(".")
        assert sentences(text) <= 2


@each_rule
def test_a_rule_has_a_case_that_keeps_it_and_one_that_breaks_it(rule: Rule) -> None:
    assert {bool(case.expected) for case in cases(rule.slug)} == {True, False}
    silent, spoken = examples(rule.slug)
    assert silent.endswith((": keeps the rule", ": nothing to say"))
    assert ": breaks it — " in spoken or ": it is said — " in spoken


@each_rule
def test_no_two_cases_of_a_rule_make_the_same_claim(rule: Rule) -> None:
    names = [case.name for case in cases(rule.slug)]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("slug", sorted(ABOUT_DAYS))
def test_a_rule_about_days_has_a_pair_of_cases_that_one_day_tells_apart(slug: str) -> None:
    keeps = [_days(case.content) for case in cases(slug) if not case.expected]
    breaks = [_days(case.content) for case in cases(slug) if case.expected]
    assert any(_are_a_day_apart(one, other) for one in keeps for other in breaks)


def _are_a_day_apart(one: set[date], other: set[date]) -> bool:
    """Whether one of the two has a day that the other has not, next to a day of the other."""
    pairs = [(day, next_to) for day in one for next_to in other if abs((day - next_to).days) == 1]
    return any(day not in other or next_to not in one for day, next_to in pairs)


def _days(content: object) -> set[date]:
    """Every date in the content of a case."""
    if isinstance(content, date):
        return {content}
    parts = content.values() if isinstance(content, dict) else content if isinstance(content, list) else ()
    return {day for part in parts for day in _days(part)}
