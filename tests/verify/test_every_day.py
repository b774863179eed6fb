"""A dose moved over every day of the season, alone or beside another: each rule begins and ends on the oracle's day."""

import random
from collections import Counter
from itertools import pairwise
from pathlib import Path

from tests.oracle.rules import owed_days
from tests.oracle.world import Dose, World
from tests.verify.test_random_doses import FAMILIES, STOPS, read_twice

SEEDS = {
    "food": range(12), "mobs": range(12), "fleece": (6, 8, 10, 12), "wishes": (1, 2, 7, 8), "directions": (8, 24, 50),
}  # fmt: skip
FARMS = [(family, seed) for family in (*FAMILIES, "wishes") for seed in SEEDS.get(family, range(4))]
SWEEPS = 4
"""Doses moved over the season of one farm."""
NOT_OF_ONE_DAY = {"season-maximum", "milk-withdrawal"}
"""What does not change with the day: how many courses there are, and whether milk may be sold at all."""


def moved(world: World, dice: random.Random) -> list[list[Dose]]:
    """By day of the season a dose with the repeat that it owes, the same one on each, beside the same other or none."""
    uses = [(label.id, use) for label in world.farm.labels.values() for use in label.uses]
    uses += [(row.label, row.use) for row in world.farm.directions for _ in range(4)]
    (label, use), beside = dice.choice(uses), dice.choice(uses)
    cohort, other = dice.choice(sorted(world.cohorts)), dice.choice(sorted(world.cohorts))
    origin = dice.choice(("own", "wish"))
    still = [Dose(dice.choice(world.window()), dice.choice((cohort, other)), *beside)] if dice.random() < 0.6 else []
    found = []
    for day in world.window():
        dose = Dose(day, cohort, label, use, None, origin)
        owed = owed_days(world, world.cohorts[cohort], label, use, day)
        again = [Dose(on, cohort, label, use, day, origin) for on in (owed or [])[:1] if on <= world.end]
        found.append([dose, *again, *(one for one in still if one.key != dose.key)])
    return found


def test_a_dose_on_every_day_breaks_just_the_rules_that_plain_loops_find(tmp_path: Path) -> None:
    turns: Counter[str] = Counter()
    for farm in read_twice(FARMS, tmp_path):
        for _ in range(SWEEPS):
            told = [farm.found_by_both(doses) for doses in moved(farm.world, farm.dice)]
            for before, after in pairwise(told):
                turns.update(before ^ after)
    assert turns.keys() >= {*STOPS, "too-early"} - NOT_OF_ONE_DAY
