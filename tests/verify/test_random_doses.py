"""Any doses on random farms, most of them thoughtless: the judge says of each set what the oracle's loops say."""

import random
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from scheduler.rules import RULES, with_directions
from scheduler.season import Dose, Doses, Origin, Season
from scheduler.verify import unlawful
from tests.oracle.farms import random_farm, write_farm
from tests.oracle.judge import judge
from tests.oracle.rules import owed_days
from tests.oracle.world import Dose as OracleDose
from tests.oracle.world import World, read_world
from tests.properties.planning import farm_of

STOPS = {rule.slug for rule in RULES if rule.severity == "stop"}
FAMILIES = ("mixed", "directions", "food", "fleece", "mobs", "work", "lambs", "clash", "record", "history", "sales")
FARMS = [(family, seed) for family in FAMILIES for seed in range(40 if family == "directions" else 8)]
SETS = 12
"""Sets of doses tried on one farm."""


def at_random(world: World, dice: random.Random) -> list[OracleDose]:
    """One to four first doses of one or two cohorts on two days near each other, some with their repeat."""
    uses = [(label.id, use) for label in world.farm.labels.values() for use in label.uses]
    uses += [(row.label, row.use) for row in world.farm.directions for _ in range(4)]
    window = world.window()
    first = dice.choice(window)
    days = [first, dice.choice([day for day in window if abs((day - first).days) <= 20])]
    found: dict[tuple[object, ...], OracleDose] = {}
    for cohort in dice.sample(sorted(world.cohorts), min(dice.randint(1, 3), len(world.cohorts))):
        for origin in dice.choice((("own",), ("wish",), ("own", "own"), ("own", "wish"))):
            label, use = dice.choice(uses)
            day = dice.choice(days)
            dose = OracleDose(day, cohort, label, use, None, origin)
            owed = owed_days(world, world.cohorts[cohort], label, use, day)
            found[dose.key] = dose
            if owed and dice.random() < 0.6:
                again = OracleDose(dice.choice(owed), cohort, label, use, day, origin)
                found[(*again.key, day)] = again
    return [dose for dose in found.values() if dose.day <= world.end]


def ours(season: Season, doses: list[OracleDose]) -> Doses:
    """The same doses as the product has them, beside what was done."""
    cohorts = {cohort.id: cohort for cohort in season.cohorts}
    found = []
    for dose in doses:
        label = season.farm.labels[dose.label]
        use = label.use(dose.use)
        assert use is not None
        origin: Origin = "wish" if dose.origin == "wish" else "plan"
        found.append(
            Dose(
                day=dose.day, cohort=cohorts[dose.cohort], label=label, use=use, first_day=dose.repeat_of, origin=origin
            )
        )
    return with_directions(season, Doses([*season.record, *found]))


@dataclass(frozen=True)
class ReadTwice:
    """A random farm by family and seed, as the oracle and as the product read it, and its dice."""

    name: tuple[str, int]
    world: World
    season: Season
    dice: random.Random

    def found_by_both(self, doses: list[OracleDose]) -> set[str]:
        """The slugs of the rules that the doses break, once the product and the oracle agree on them."""
        theirs = {(one.slug, one.dose.cohort) for one in judge(self.world, doses)}
        found = {(one.rule, one.cohort or "") for one in unlawful(self.season, ours(self.season, doses))}
        assert bool(found) == bool(theirs), (self.name, doses)
        assert plain(found) == plain(theirs), (self.name, doses)
        return {slug for slug, _ in found}


def read_twice(farms: Iterable[tuple[str, int]], place: Path) -> Iterator[ReadTwice]:
    """The farms of these families and seeds."""
    for family, seed in farms:
        drawn = random_farm(seed, 2, family)
        write_farm(drawn, place / f"{family}-{seed}")
        season = Season(farm_of(drawn.files, drawn.today), drawn.today)
        world = read_world(place / f"{family}-{seed}", drawn.today)
        yield ReadTwice((family, seed), world, season, random.Random(seed))


def test_the_judge_finds_in_any_doses_just_what_plain_loops_find(tmp_path: Path) -> None:
    reached: Counter[str] = Counter()
    for farm in read_twice(FARMS, tmp_path):
        for _ in range(SETS):
            reached.update(farm.found_by_both(at_random(farm.world, farm.dice)) or {"nothing"})
    assert reached.keys() >= {*STOPS, "too-early"}
    assert reached["nothing"] > sum(reached.values()) / 10


def plain(found: set[tuple[str, str]]) -> set[tuple[str, str]]:
    """What was found, a missing or late repeat by one name, and none of sheep that are not there."""
    away = {cohort for slug, cohort in found if slug == "away"}
    named = {("lamb-repeat" if slug == "repeat-before-sale" else slug, cohort) for slug, cohort in found}
    return {one for one in named if one[0] != "lamb-repeat" or one[1] not in away}
