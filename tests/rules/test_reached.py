"""Every rule is reached by a farm folder: a case in which it speaks, its doses wished for, is planned or checked."""

from typing import Any

import pytest
from msgspec.structs import replace

from scheduler.plan import Conflict, audit_farm, make_plan
from scheduler.rules import RULES, Case, Rule, cases
from scheduler.rules.case_farm import farm_of, merged

each_rule = pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.slug)


def as_folder(case: Case) -> Case:
    """The case with the doses that it states as wishes of the farm's own."""
    content = dict(case.content)
    stated = [merged(content["dose"], row) for row in content.pop("doses", ())]
    wishes = [*content.get("wishes", ()), *map(_wish, stated)]
    return replace(case, content=content | {"wishes": wishes} if wishes else content)


def _wish(dose: dict[str, Any]) -> dict[str, Any]:
    row = {"date": dose["day"], "group": dose["cohort"].partition("/")[0], "cohort": dose["cohort"]}
    return row | {key: dose[key] for key in ("label", "use", "repeat_of") if key in dose}


def conflicts(case: Case) -> list[Conflict]:
    """What `season check` and then `season plan` say of the case's folder."""
    today = case.content["today"]
    farm = farm_of(as_folder(case).content, today)
    found = list(audit_farm(farm, today, None))
    return (
        found if case.slug in {one.rule for one in found} else [*make_plan(farm, today, None, lambda: False).conflicts]
    )


def speaks(case: Case) -> bool:
    """Whether the folder of a case raises the conflict of its rule; a wish outside the season is no farm."""
    try:
        return case.slug in {one.rule for one in conflicts(case)}
    except ValueError:
        return False


@each_rule
def test_a_rule_is_reached_by_a_farm_folder(rule: Rule) -> None:
    assert any(speaks(case) for case in cases(rule.slug) if case.expected)
