"""Ways out for a wish that may not stand: each is the plan of the farm with the wish changed, figure by figure."""

from datetime import date
from typing import Any

import pytest
from msgspec.structs import replace

from scheduler.farm import Farm, Wish
from scheduler.plan import make_plan
from scheduler.plan.model import Choice, Plan
from scheduler.words import Where
from tests.plan.flock import BEFORE, closed, farm, label, may, prevent, risk, sale, settings

ROW = Where("wishes.csv", 2)
LONGER = label(id="long", active="dicyclanil", chemical_group="insect growth regulator", meat=40)


def wish(day: date, label_id: str = "fly") -> Wish:
    """The wish of one dose."""
    return Wish(day=day, group="Ewes", label=label_id, use="guard", where=ROW)


def planned(changed: Farm) -> Plan:
    """The plan, proved."""
    return make_plan(changed, BEFORE, None, lambda: False)


def with_wish(row: Wish, **changed: Any) -> Farm:
    """Ewes at risk in June and July, half of them sold for slaughter on day 70, and one wish."""
    rows = {"sales": (sale(may(70)),), "risk": (risk(may(31), may(90), "0.8"),)} | changed
    return farm(wishes=(row,), **rows)


def ways(plan: Plan, rule: str) -> dict[str, Choice]:
    """The ways out of the wish that breaks the rule, by kind."""
    (conflict,) = [one for one in plan.conflicts if one.rule == rule and one.severity == "stop"]
    return {choice.what: choice for choice in conflict.choices}


def priced(choice: Choice, before: Plan, after: Plan) -> bool:
    """Whether the choice costs what two whole plans differ by."""
    return (choice.exposed_sheep_days, choice.money_minor, choice.handlings) == (
        after.score.exposed_sheep_days - before.score.exposed_sheep_days,
        after.score.money_minor - before.score.money_minor,
        after.score.handlings - before.score.handlings,
    )


def test_a_wish_inside_the_withdrawal_may_be_given_sooner() -> None:
    late = wish(may(62))
    asked = with_wish(late)
    plan = planned(asked)
    moved = ways(plan, "meat-withdrawal")["move-dose"]
    assert moved.text == "give it on 30 Jun 2027, 1 day sooner"
    again = planned(replace(asked, wishes=(replace(late, day=may(61)),)))
    assert priced(moved, plan, again)


def test_a_wish_inside_the_withdrawal_may_be_another_label() -> None:
    late = wish(may(40), "long")
    asked = with_wish(late, labels={"fly": label(), "long": LONGER})
    plan = planned(asked)
    other = ways(plan, "meat-withdrawal")["other-use"]
    again = planned(replace(asked, wishes=(replace(late, label="fly"),)))
    assert priced(other, plan, again)


def test_a_wish_on_a_closed_day_moves_to_the_nearest_open_one() -> None:
    rows = with_wish(wish(may(40)), settings=settings(closed=closed(may(39), may(40), may(41), may(42))))
    assert ways(planned(rows), "closed-day")["move-dose"].text.endswith("2 days sooner")


def test_what_a_vet_may_direct_is_asked_of_the_vet() -> None:
    old = label(uses=(prevent(kinds=("lamb",)),))
    choices = ways(planned(with_wish(wish(may(40)), labels={"fly": old})), "use-on-label")
    assert choices["ask-vet"].decides == "vet"
    assert "move-dose" not in choices


@pytest.mark.parametrize("day", [58, 61, 62, 69])
def test_a_way_out_is_told_of_wishes_left_out_only(day: int) -> None:
    plan = planned(with_wish(wish(may(day))))
    left_out = any(one.rule == "meat-withdrawal" for one in plan.conflicts)
    assert left_out == (day > 61)


def test_no_conflict_has_more_than_five_ways_out() -> None:
    plan = planned(with_wish(wish(may(62), "long"), labels={"fly": label(), "long": LONGER}))
    assert max(len(one.choices) for one in plan.conflicts) <= 5
