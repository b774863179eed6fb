"""How room to move, bounds and worth are put into words."""

from datetime import date, timedelta

import pytest

from scheduler.plan import Change, Later, NextBest, OtherUse, Slip, Why
from scheduler.report import Plan, little_bought, next_best_words, not_reckoned, other_words, slip_words
from tests.outputs.pieces import cohort, day, dose, plan, report

THURSDAY = day(6, 3)
EWES = cohort("Ewes", 60)


def later(days: int, exposed: int = 0, money: int = 0) -> Later:
    """So many days after the Thursday."""
    return Later(THURSDAY + timedelta(days=days), exposed, money)


def told(*then: Later, free_to: date = THURSDAY) -> str:
    """The words for a dose of that Thursday."""
    why = Why(uid="u", because=(), slip=Slip(free_to, then))
    return slip_words(report(plan()), why, THURSDAY)


@pytest.mark.parametrize(
    ("then", "words"),
    [
        ((later(1, 60), later(2, 120), later(4, 240)), "from Fri 4 Jun 2027 60 sheep-days a day"),
        ((later(4, 110), later(5, 165)), "from Mon 7 Jun 2027 110 sheep-days, then 55 a day"),
        ((later(1, 60), later(2, 60)), "from Fri 4 Jun 2027 60 sheep-days"),
        ((later(1, 60), later(2, 70), later(3, 90)), "from Fri 4 Jun 2027 60 sheep-days, then it varies"),
        ((later(1, 1),), "from Fri 4 Jun 2027 1 sheep-day"),
        ((later(1, 0, 1067), later(2, 0, 1067)), "from Fri 4 Jun 2027 GBP 10.67 more"),
        (
            (later(1, 0, 1067), later(2, 60, 1067), later(3, 120, 1067)),
            "from Fri 4 Jun 2027 GBP 10.67 more; from Sat 5 Jun 2027 60 sheep-days a day and GBP 10.67 more",
        ),
        ((later(1, 60, -250), later(2, 120, -250)), "from Fri 4 Jun 2027 60 sheep-days a day and GBP 2.50 less"),
        ((), "none: no later day is lawful"),
    ],
)
def test_each_later_day_has_its_price(then: tuple[Later, ...], words: str) -> None:
    assert told(*then) == words


def test_free_days_come_first() -> None:
    free = "to Sat 5 Jun 2027 free"
    saturday = THURSDAY + timedelta(days=2)
    assert told(later(3, 60), later(4, 120), free_to=saturday) == f"{free}; from Sun 6 Jun 2027 60 sheep-days a day"
    assert told(free_to=saturday) == f"{free}; no later"


def test_a_dose_that_falls_away_has_no_next_day() -> None:
    fallen = Why(uid="u", because=(), next_best=NextBest(None, Change(3000, -7360, -1)))
    moved = Why(uid="u", because=(), next_best=NextBest(THURSDAY, Change(0, 775, 0)))
    assert next_best_words(report(plan()), fallen, handlings=True) == (
        "No other day is worth a dose: without it 3,000 exposed sheep-days more, GBP 73.60 less, 1 handling fewer"
    )
    assert next_best_words(report(plan()), moved) == "Thu 3 Jun 2027: 0 exposed sheep-days, GBP 7.75 more"


def test_another_label_is_forbidden_or_has_its_price_and_says_whether_it_was_confirmed() -> None:
    other = OtherUse(label="dear", name="Demo dear (invented)", confirmed=True, use="guard")
    priced = OtherUse(label="dear", name="Demo dear (invented)", confirmed=False, use="guard", money_minor=80)
    barred = OtherUse(
        label="dear", name="Demo dear (invented)", confirmed=True, use="guard", rule="away", text="On 3 Jun 2027: away."
    )
    assert [other_words(report(plan()), one) for one in (other, priced, barred)] == [
        "Demo dear (invented) (guard): as good; of plans that cost the same one is chosen by rule.",
        "Demo dear (invented) (guard, label not confirmed): 0 exposed sheep-days, GBP 0.80 more.",
        "Demo dear (invented) (guard): On 3 Jun 2027: away.",
    ]


def test_doses_that_buy_least_stand_first_and_the_others_are_counted() -> None:
    tasks = [dose(EWES, day(6, of_month)) for of_month in (1, 8, 15, 22)]
    buys = [Change(90, -10, -1), Change(0, -50, -1), Change(0, 20, -1)]
    whys = tuple(Why(uid=task.uid, because=(), buys=change) for task, change in zip(tasks, buys, strict=False))
    made: Plan = plan(cohorts=(EWES,), tasks=tuple(tasks), whys=whys)
    assert [task.day.day for task, _ in little_bought(report(made))] == [8, 15, 1]
    assert not_reckoned(report(made)) == 1
