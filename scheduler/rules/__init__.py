"""The rules: each one value in one file, and the engine that judges doses by them."""

from scheduler.rules.catalogue import RULES
from scheduler.rules.contract import Apart, Breach, Count, Rule, of_dose
from scheduler.rules.engine import breaches, least_days, rule_breaches, with_directions
from scheduler.rules.examples import Case, Expected, cases, examples
from scheduler.rules.work.too_early import near_days, shared_targets

__all__ = [
    "RULES",
    "Apart",
    "Breach",
    "Case",
    "Count",
    "Expected",
    "Rule",
    "breaches",
    "cases",
    "examples",
    "least_days",
    "near_days",
    "of_dose",
    "rule_breaches",
    "shared_targets",
    "with_directions",
]
