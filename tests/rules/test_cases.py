"""Every case of every rule: what the rule says of it is what the case expects, no more and no less."""

import pytest

from scheduler.rules import RULES, Case, cases

CASES = [case for rule in RULES for case in cases(rule.slug)]


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.slug}: {case.name}")
def test_a_rule_says_of_its_case_what_is_expected(case: Case) -> None:
    found = case.found()
    said = "\n".join(f"{breach.day} {breach.cohort} {breach.group} {breach.where}: {breach.text}" for breach in found)
    assert len(found) == len(case.expected), said
    for expected, breach in zip(case.expected, found, strict=True):
        assert expected.is_met(breach), f"{expected}\n{said}"
