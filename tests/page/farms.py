"""Reports of invented farms with so many groups, thrown by dice of a fixed seed: names, days and levels at random.

They need not be plans that the planner would make; the page has to show any plan.
"""

import random
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal
from typing import get_args

from msgspec.structs import replace

from scheduler.report import (
    CohortLine,
    EventLine,
    Gather,
    Run,
    SaleLine,
    Score,
    SeasonReport,
    State,
    Task,
    TaskStatus,
)
from scheduler.words import EventKind, Span, Target
from tests.outputs.pieces import END, START, cohort, dose, label, plan, report, runs

DAYS = (END - START).days + 1
WORDS = ("Low", "Wester", "Mule", "Shearling", "gimmers", "Top", "tups", "Öland", "hoggs", "WWWWWW", "il", "old")
TARGETS: tuple[Target, ...] = ("blowfly-strike", "ticks", "head-fly")
STATES: tuple[State, ...] = ("low", "covered", "fading", "exposed", "away")


def farm_of(groups: int) -> SeasonReport:
    """A farm of so many groups, in mobs of up to three, each group in one to three cohorts."""
    dice = random.Random(f"farm of {groups}")
    cohorts: list[CohortLine] = []
    for number in range(groups):
        name = f"{' '.join(dice.sample(WORDS, dice.randint(1, 3)))} {number + 1}"
        mob = f"Mob {number // dice.randint(1, 3)}"
        cohorts += _cohorts(dice, name, mob)
    doses = [task for whose in cohorts for task in _doses(dice, whose)]
    made = plan(
        made_for=_day(dice),
        cohorts=tuple(cohorts),
        tasks=tuple(sorted(doses, key=lambda task: (task.day, task.uid))),
        days=tuple(run for whose in cohorts for run in _runs(dice, whose)),
        score=Score(dice.randint(0, 99999), dice.randint(0, 9999999), "GBP", len(doses), len(doses)),
    )
    sales = tuple(
        SaleLine(name=c.sale, group=c.group, head=c.head, day=c.leaves, purpose=dice.choice(("slaughter", "store")))
        for c in cohorts
        if c.sale is not None and c.leaves is not None
    )
    return report(
        made, sales=sales, events=tuple(_events(dice, cohorts)), gathers=tuple(_gathers(dice, cohorts, doses)),
        labels=(label(), label("tick-dip", confirmed=True)), closed=tuple(Span(d, d) for d in _sundays()),
    )  # fmt: skip


def _day(dice: random.Random) -> date:
    return START + timedelta(days=dice.randrange(DAYS))


def _sundays() -> Iterator[date]:
    return (d for n in range(DAYS) if (d := START + timedelta(days=n)).weekday() == 6)


def _cohorts(dice: random.Random, name: str, mob: str) -> Iterator[CohortLine]:
    for number in range(dice.randint(0, 2)):
        sale = f"{' '.join(dice.sample(WORDS, dice.randint(1, 4)))} sale {number + 1}"
        yield cohort(name, dice.randint(1, 400), sale, _day(dice), mob)
    yield cohort(name, dice.randint(1, 4000), mob=mob)


def _doses(dice: random.Random, whose: CohortLine) -> Iterator[Task]:
    for _ in range(dice.randint(0, 6)):
        status: TaskStatus = dice.choice(("planned", "planned", "done", "missed"))
        name, meat = dice.choice(("hill-pour-on", "tick-dip")), dice.choice((None, 0, 8, 70))
        first = dose(whose, _day(dice), name, TARGETS[:2], status=status, meat=meat)
        yield first
        if dice.random() < 0.3:
            again = first.day + timedelta(days=21)
            yield replace(first, uid=f"{first.uid}-again", day=again, repeat_of=first.uid, status="planned")


def _runs(dice: random.Random, whose: CohortLine) -> Iterator[Run]:
    for target in TARGETS:
        days = sorted(dice.sample(range(1, DAYS), dice.randint(0, 9)))
        steps = [(START + timedelta(days=n), str(Decimal(dice.randint(0, 100)) / 100), dice.choice(STATES))
                 for n in (0, *days)]  # fmt: skip
        yield from runs(whose, target, *steps)


def _events(dice: random.Random, cohorts: list[CohortLine]) -> Iterator[EventLine]:
    groups = list(dict.fromkeys(whose.group for whose in cohorts))
    for _ in range(2 * len(groups)):
        first = _day(dice)
        last = first + timedelta(days=dice.choice((0, 0, 0, 5, 60)))
        named = tuple(dice.sample(groups, dice.randint(1, min(3, len(groups)))))
        yield EventLine(what=dice.choice(get_args(EventKind)), first=first, last=last, groups=named)


def _gathers(dice: random.Random, cohorts: list[CohortLine], doses: list[Task]) -> Iterator[Gather]:
    mobs = {whose.id: whose.mob for whose in cohorts}
    for task in doses:
        if task.status == "planned" and task.cohort is not None:
            mob = mobs[task.cohort] + dice.choice(("", "", " weaned"))
            yield Gather(mob=mob, day=task.day, cohorts=(task.cohort,), event=dice.choice((None, "shearing")))
