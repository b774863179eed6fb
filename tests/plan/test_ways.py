"""Ways out of warnings: lots for uneven sheep, another label, a vet's direction, and a sale moved beyond the days."""

import re
from decimal import Decimal

import pytest
from msgspec.structs import replace

from scheduler.farm import Event, Farm, Finding, StockRow
from scheduler.labels import Band
from scheduler.plan import make_plan
from scheduler.plan.model import Choice, Conflict, Plan
from scheduler.words import Where
from tests.plan.flock import BEFORE, ewes, farm, label, may, prevent, risk, row, sale

OTHER = label(id="long", name="Demo long (invented)", active="dicyclanil", chemical_group="insect growth regulator")
BY_KG = prevent(bands=(Band(upto_kg=Decimal(25), ml=Decimal(20)), Band(above_kg=Decimal(25), ml=Decimal(40))))


def planned(of: Farm) -> Plan:
    """The plan, proved."""
    return make_plan(of, BEFORE, None, lambda: False)


def conflict(plan: Plan, rule: str) -> Conflict:
    """The one conflict of a rule."""
    (found,) = [one for one in plan.conflicts if one.rule == rule]
    return found


def ways(plan: Plan, rule: str) -> dict[str, Choice]:
    """The ways out of that conflict, by kind."""
    return {choice.what: choice for choice in conflict(plan, rule).choices}


def test_sheep_of_two_bands_are_dosed_in_two_lots_for_less_money() -> None:
    # 20 to 40 kg, evenly: a quarter of 50 head, 12.5, weigh up to 25 kg and need 20 ml instead of 40 ml.
    # 13 x 20 ml = 260 ml less at 92.00 for 2500 ml is 9.568: 956.8 pence; 2000 ml cost 7360, 1740 ml 6403.2.
    uneven = ewes(heaviest_kg=Decimal(40), lightest_kg=Decimal(20))
    plan = planned(farm(groups=(uneven,), labels={"fly": label(uses=(BY_KG,))}))
    split = ways(plan, "weight-spread")["split-group"]
    assert split.text.startswith(
        "part them at 25 kg and dose light sheep first: 13 head at 20 ml, then 37 head at 40 ml: 260 ml less"
    )
    assert (split.exposed_sheep_days, split.money_minor, split.handlings) == (0, 6403 - 7360, 0)


@pytest.mark.parametrize(("lightest", "offered"), [(Decimal(24), True), (Decimal("25.1"), False)])
def test_sheep_of_one_dose_are_not_parted(lightest: Decimal, offered: bool) -> None:
    uneven = ewes(heaviest_kg=Decimal(40), lightest_kg=lightest)
    plan = planned(farm(groups=(uneven,), labels={"fly": label(uses=(BY_KG,))}))
    choices = [choice.what for one in plan.conflicts if one.rule == "weight-spread" for choice in one.choices]
    assert choices == (["split-group"] if offered else [])


def test_a_chemical_group_used_again_may_be_another_as_a_wish() -> None:
    dear = replace(OTHER, packs=(replace(label().packs[0], price=Decimal(200)),))
    labels = {"fly": label(), "long": dear}
    asked = farm(labels=labels, record=(row(may(1)),), risk=(risk(may(60), may(90)),))
    plan = make_plan(asked, may(50), None, lambda: False)
    other = ways(plan, "same-group-again")["other-use"]
    dose = next(task for task in plan.tasks if task.kind == "dose" and task.status == "planned")
    assert "as a row of wishes.csv" in other.text
    # 500 ml at 200.00 instead of 92.00 for 2500 ml.
    assert (other.exposed_sheep_days, other.money_minor, other.handlings) == (0, 4000 - 1840, 0)
    assert dose.label == "fly"


def test_a_label_that_cannot_be_had_in_time_may_give_way_to_one_in_stock() -> None:
    dear = replace(OTHER, packs=(replace(label().packs[0], price=Decimal(200)),))
    shelf = StockRow(label="long", ml=Decimal(2500), where=Where("stock.csv", 2))
    asked = farm(labels={"fly": label(), "long": dear}, stock=(shelf,), risk=(risk(may(2), may(30)),))
    plan = make_plan(asked, may(1), None, lambda: False)
    choices = ways(plan, "stock-short")
    assert {"order-now", "other-use"} <= choices.keys()
    assert choices["other-use"].money_minor == 4000 - 1840


def test_a_gap_that_a_direction_could_close_is_asked_of_the_vet() -> None:
    plan = planned(farm(labels={"fly": label(uses=(prevent(kinds=("lamb",)),))}))
    asked = ways(plan, "cover-gap")["ask-vet"]
    assert (asked.decides, asked.exposed_sheep_days) == ("vet", 0)


@pytest.mark.parametrize(("move_days", "beyond"), [(7, False), (6, True)])
def test_a_sale_moved_beyond_the_days_allowed_says_so(move_days: int, beyond: bool) -> None:
    # Given on day 31 with 8 days of withdrawal: clear on day 40, which is 9 June.
    held = farm(record=(row(may(31)),), sales=(sale(may(33), move_days=move_days),))
    plan = make_plan(held, may(31), None, lambda: False)
    moved = ways(plan, "meat-withdrawal")["move-sale"]
    assert moved.text.startswith("sell Mart on 9 Jun 2027, 7 days later")
    assert ("beyond the days you allowed" in moved.text) == beyond


SCABBY = Finding(day=may(31), group="Ewes", what="scab", where=Where("findings.csv", 2))
AGAINST_SCAB = prevent(id="scab", purpose="treat", targets=("scab",), protects_days=(0, 0), works_after_days=5)


@pytest.mark.parametrize("fixed", [False, True])
def test_sheep_that_may_not_leave_for_scab_are_sold_once_it_is_cleared_or_kept(fixed: bool) -> None:
    """Treated on 31 May, it works from 5 June on: to treat pays from the day on which they are still here clean."""
    store = sale(may(33), purpose="store", fixed=fixed)
    asked = farm(labels={"fly": label(uses=(AGAINST_SCAB,))}, findings=(SCABBY,), sales=(store,), risk=())
    choices = ways(make_plan(asked, may(31), None, lambda: False), "movement-stop")
    assert set(choices) == {"ask-vet", "hold-back", *(() if fixed else ("move-sale",))}
    if not fixed:
        moved = choices["move-sale"]
        assert moved.text == "sell Mart on 6 Jun 2027, 4 days later, once the vet and the authority agree"
        assert moved.decides == "vet"


def test_no_later_sale_is_offered_while_nothing_clears_the_scab() -> None:
    asked = farm(findings=(SCABBY,), sales=(sale(may(33), purpose="store"),), risk=())
    assert set(ways(make_plan(asked, may(31), None, lambda: False), "movement-stop")) == {"ask-vet", "hold-back"}


def test_a_dose_before_sheep_are_in_hand_may_go_to_that_day() -> None:
    """Of 30 handling days none is free before: given up to 21 days before 31 May, or with the crutching on 5 June.

    The 50 ewes are then at risk from 31 May to 4 June.
    """
    crutched = Event(what="crutching", first=may(36), last=may(36), groups=("Ewes",), where=Where("events.csv", 2))
    asked = farm(
        labels={"fly": label(handling_days=30, repeat_interval=60)}, events=(crutched,), risk=(risk(may(31), may(50)),)
    )
    plan = planned(asked)
    (moved,) = conflict(plan, "handling-people").choices
    assert (moved.what, moved.decides) == ("move-dose", "keeper")
    assert re.fullmatch(
        r"give what Ewes get on .* 2027 on 5 Jun 2027, .* later, as rows of wishes.csv, one for each cohort dosed then",
        moved.text,
    )
    assert (moved.exposed_sheep_days, moved.money_minor, moved.handlings) == (5 * 50, 0, 0)


def test_a_dose_whose_last_days_are_hard_may_be_given_on_another_day_or_by_another_label() -> None:
    """Level 0.8 on the last days of 42: a dose later, or one of 84 days, holds over them."""
    longer = replace(OTHER, uses=(prevent(protects_days=(84, 84)),))
    hard = (risk(may(31), may(50), "0.6"), risk(may(60), may(72), "0.8"))
    plan = planned(farm(labels={"fly": label(), "long": longer}, risk=hard))
    assert {choice.what for choice in conflict(plan, "high-challenge").choices} <= {"move-dose", "other-use"}
    assert conflict(plan, "high-challenge").choices
