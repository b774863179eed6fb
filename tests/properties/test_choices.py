"""Each way out of a conflict, once taken and planned again, changes just what it said, and the conflict is gone."""

from collections import Counter
from datetime import date, timedelta

import pytest

from scheduler.plan import Choice, Conflict, Plan
from tests.oracle.farms import random_farm
from tests.properties.planning import Texts, plan_of
from tests.properties.taking import WAYS, taken

FARMS: dict[tuple[str, int], set[str]] = {
    ("sales", 3): set(),
    ("wishes", 1): {"a wish taken out", "within the days allowed"},
    ("wishes", 6): {"other-use of a wish"},
    ("history", 3): {"within the days allowed"},
    ("directions", 1): {"move-dose of a wish", "within the days allowed", "move-dose in the place of a planned dose"},
    ("directions", 2): {"hold-back", "beyond the days allowed"},
    ("findings", 12): {"doses of a mob on another day", "move-dose in the place of a planned dose"},
    ("findings", 13): {"doses of a mob on another day", "other-use in the place of a planned dose"},
    ("mixed", 1): {"move-dose of a wish", "a wish taken out"},
    ("mixed", 3): {"move-dose in the place of a planned dose", "other-use in the place of a planned dose"},
    ("record", 1): {"other-use in the place of a planned dose"},
}
"""Small random farms, with the kinds of ways out that they must have among theirs."""


def kind_of(conflict: Conflict, choice: Choice) -> str:
    """What is taken, told apart by what it changes."""
    if choice.what == "move-sale":
        return "beyond the days allowed" if "beyond" in choice.text else "within the days allowed"
    if choice.text.startswith("take the wish"):
        return "a wish taken out"
    if choice.text.startswith("give what"):
        return "doses of a mob on another day"
    origin = "in the place of a planned dose" if "wishes.csv" in choice.text else "of a wish"
    return choice.what if choice.what == "hold-back" else f"{choice.what} {origin}"


def change(plan: Plan, again: Plan) -> tuple[int, int, int]:
    """What another plan has more."""
    old, new = plan.score, again.score
    return (
        new.exposed_sheep_days - old.exposed_sheep_days,
        new.money_minor - old.money_minor,
        new.handlings - old.handlings,
    )


def stops(plan: Plan) -> Counter[str]:
    """Stop rules that a plan must tell of."""
    return Counter(one.rule for one in plan.conflicts if one.severity == "stop")


@pytest.mark.parametrize(("family", "seed"), FARMS)
def test_a_way_out_taken_and_planned_again_changes_just_what_it_said(family: str, seed: int) -> None:
    drawn = random_farm(seed, 2, family)
    assert kinds_taken(drawn.files, drawn.today) >= FARMS[family, seed]


@pytest.mark.parametrize(("seed", "later"), [(33, "within the days allowed"), (42, "beyond the days allowed")])
def test_ways_out_of_a_sale_while_scab_stands_change_just_what_they_said(seed: int, later: str) -> None:
    """Half of the first group is to be sold two days on; scab stands on some of the farm's sheep."""
    drawn = random_farm(seed, 2, "findings")
    name, _, head, *_ = drawn.files["groups.csv"].splitlines()[1].split(",")
    row = f"Mart,{name},{int(head) // 2},{drawn.today + timedelta(days=2)},store"
    files = {**drawn.files, "sales.csv": f"sale,group,head,date,purpose\n{row}\n"}
    assert kinds_taken(files, drawn.today, "movement-stop") == {"hold-back", later}


def kinds_taken(files: Texts, today: date, rule: str | None = None) -> set[str]:
    """The kinds of ways out of a plan, or of its conflicts of one rule, each taken and held to what it said."""
    plan, kinds = plan_of(files, today), set()
    for conflict in (one for one in plan.conflicts if rule in (None, one.rule)):
        for choice in conflict.choices:
            said = (choice.exposed_sheep_days, choice.money_minor, choice.handlings)
            if not any(shape.match(choice.text) for shape, _ in WAYS):
                assert choice.what == "split-group" or said == (0, 0, 0)
                continue
            again = plan_of(taken(files, plan, conflict, choice), today)
            assert change(plan, again) == said, (conflict, choice)
            assert stops(again) <= stops(plan), (conflict, choice)
            kinds.add(kind_of(conflict, choice))
    return kinds


@pytest.mark.parametrize(("family", "seed"), FARMS)
def test_ways_out_are_at_most_five_and_the_cheapest_stand_first(family: str, seed: int) -> None:
    drawn = random_farm(seed, 2, family)
    for conflict in plan_of(drawn.files, drawn.today).conflicts:
        prices = [(one.exposed_sheep_days, one.money_minor, one.handlings) for one in conflict.choices]
        assert prices == sorted(prices)
        assert len(prices) <= 5
