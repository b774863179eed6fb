"""The oracle's record, findings, wishes and optimum, on hand-worked cases and against brute force."""

from __future__ import annotations

import random
import tempfile
from itertools import product
from pathlib import Path

import pytest

from tests.oracle.brute import brute
from tests.oracle.duties import duties_of
from tests.oracle.farms import FAMILIES, random_farm, write_farm
from tests.oracle.judge import exposed_sheep_days, judge, score
from tests.oracle.milp import solve
from tests.oracle.rules import owed_days
from tests.oracle.small import EWES, LAMBS, dose, label, may, small
from tests.oracle.world import Dose, World, read_world

RECORD = "date,group,label,use,head,cohort,repeat_of,given\n"
WISHES = "date,group,label,use,cohort,repeat_of\n"
SALES = "sale,group,head,date,purpose\n"
FOUND = "date,group,what,head,area_cm2,cleared\n"
CURE = {"use": "cure", "purpose": "treat", "active": "diazinon", "limits": "", "withdrawal": "meat = 8"}
SLUGS = {
    "use-on-label",
    "youngest-age",
    "dose-band",
    "lamb-repeat",
    "repeat-interval",
    "season-maximum",
    "fleece-weeks",
    "product-clash",
    "meat-withdrawal",
    "milk-withdrawal",
    "export-interval",
    "wool-interval",
    "organic-withdrawal",
    "off-label-withdrawal",
    "repeat-before-sale",
    "closed-day",
    "daily-head",
    "away",
    "lambing-quiet",
}


def test_untreated_ewes_are_exposed_for_eleven_days() -> None:
    """10 to 20 May are 11 days of 10 head; a dose of 7 May covers to 20 May and costs 10 x 5 ml at 10 p."""
    assert exposed_sheep_days(small(), []) == 110
    assert score(small(), [dose(7)]).stages == (0, 500, 1, 1)


def test_fading_days_count_as_exposed() -> None:
    """A dose of 3 May covers to 16 May; 17 to 20 May are 4 days of 10 head."""
    assert exposed_sheep_days(small(), [dose(3)]) == 40


def test_labour_pays_for_handling_and_gather() -> None:
    """18 an hour is 30 p a minute: 500 + 10 x 0.5 x 30 = 650, and 60 minutes of gather 1800."""
    assert score(small(labour="18"), [dose(7)]).stages == (0, 2450, 1, 1)


def test_a_gather_event_saves_the_gather() -> None:
    world = small({"events.csv": "date,end,what,groups\n2027-05-06,2027-05-07,gather,Ewes\n"}, labour="18")
    assert [score(world, [dose(day)]).money for day in (7, 8)] == [650, 2450]


def test_lambs_leave_the_mob_the_day_after_weaning() -> None:
    world = small({"groups.csv": LAMBS, "events.csv": "date,end,what,groups\n2027-05-09,,weaning,Lambs\n"})
    assert [world.mob_of("Lambs", may(day)) for day in (8, 9, 10)] == ["Hill", "Hill", "Hill weaned"]


def test_housed_to_the_day_before_turnout() -> None:
    """Turned out on 3 May without a housing before: housed 1 and 2 May; housed again from 8 May."""
    world = small({"events.csv": "date,end,what,groups\n2027-05-03,,turnout,Ewes\n2027-05-08,,housing,all\n"})
    assert [day for day in range(1, 11) if world.housed("Ewes", may(day))] == [1, 2, 8, 9, 10]


def test_found_sheep_come_from_stay_then_from_the_latest_sale() -> None:
    tables = {"sales.csv": SALES + "first,Ewes,3,2027-06-01,slaughter\nlast,Ewes,5,2027-06-09,slaughter\n"}
    world = small(tables | {"findings.csv": FOUND + "2027-05-01,Ewes,ticks,4,,\n"})
    heads = {name: one.head for name, one in world.cohorts.items()}
    assert heads == {"Ewes/first": 3, "Ewes/last": 3, "Ewes/found-2": 2, "Ewes/found-2/last": 2}


def test_a_finding_stands_until_its_treatment_works() -> None:
    """Found 1 May, treated 2 May with works_after 2: exposed on 1, 2 and 3 May."""
    cure = label(**CURE, keys="works_after_days = 2")
    world = small({"findings.csv": FOUND + "2027-05-01,Ewes,ticks,10,,\n", "labels/cure.toml": cure})
    given = [Dose(may(2), "Ewes/stay", "cure", "cure")]
    cohort = world.cohorts["Ewes/stay"]
    assert [day for day in range(1, 9) if world.day_state(cohort, "ticks", may(day), given)[1] == "exposed"] == [
        1,
        2,
        3,
    ]


def test_treatment_only_while_a_finding_stands() -> None:
    """Cleared on 5 May: 4 May is the last day of treatment."""
    tables = {
        "findings.csv": FOUND + "2027-05-01,Ewes,ticks,10,,2027-05-05\n",
        "labels/cure.toml": label(**CURE, keys=""),
    }
    world = small(tables)
    found = [{one.slug for one in judge(world, [Dose(may(day), "Ewes/stay", "cure", "cure")])} for day in (4, 5)]
    assert found == [set(), {"use-on-label"}]


def test_a_recorded_dose_covers_and_binds_a_partial_one_only_binds() -> None:
    """Of 7 May, to all 10: the season is covered; to 9: nothing is, and the interval of 14 days runs to 21 May."""
    tables = [{"record.csv": RECORD + f"2027-05-07,Ewes,demo,guard,{head},,,yes\n"} for head in (10, 9)]
    worlds = [small(one, today=may(8)) for one in tables]
    assert [exposed_sheep_days(world, []) for world in worlds] == [0, 110]
    assert {one.slug for one in judge(worlds[1], [dose(20)])} == {"repeat-interval"}
    assert judge(worlds[1], [dose(21)])[0].slug == "too-early"


def test_the_record_owes_its_repeat() -> None:
    """First on 3 May, 7 days: 10 to 13 May; on 12 May only 12 and 13 are left; on 20 May it is late, at once."""
    tables = {"record.csv": RECORD + "2027-05-03,Ewes,demo,guard,10,,,yes\n"}
    repeat = "[[use.repeat]]\nafter_days = 7\nml = 3"
    days = {}
    for today in (5, 12, 20):
        duties = duties_of(small(tables, today=may(today), repeat=repeat))
        days[today] = ([one.repeat.day for one in duties.choices[0] if one.repeat], len(duties.late))
    assert days == {5: ([10, 11, 12, 13], 0), 12: ([12, 13], 0), 20: ([20], 1)}


def test_given_no_ends_the_duty() -> None:
    rows = "2027-05-03,Ewes,demo,guard,10,,,yes\n2027-05-10,Ewes,demo,guard,10,,2027-05-03,no\n"
    world = small({"record.csv": RECORD + rows}, today=may(12), repeat="[[use.repeat]]\nafter_days = 7\nml = 3")
    assert duties_of(world).choices == []


def test_wishes_are_taken_in_order_of_date() -> None:
    """5 May is taken; 12 May (row 2) is within 14 days of it; 19 May is not."""
    rows = "2027-05-12,Ewes,demo,guard,,\n2027-05-19,Ewes,demo,guard,,\n2027-05-05,Ewes,demo,guard,,\n"
    duties = duties_of(small({"wishes.csv": WISHES + rows}))
    assert {key: [one.slug for one in why] for key, why in duties.refused.items()} == {
        (2, "Ewes/stay"): ["repeat-interval"]
    }
    assert [one[0].first for one in duties.choices] == [may(5), may(19)]


def test_an_off_label_wish_waits_half_as_long_again() -> None:
    """The ewes are not among the kinds; 8 days become 12: sold on 20 May, 7 May is the last day (7 + 12 + 1)."""
    head = "label,use,groups,sets_aside,signed,until,meat_days,milk_days,vet\n"
    tables = {"directions.csv": head + "demo,guard,Ewes,use-on-label,2027-04-30,2027-06-01,3,,A. Nother (invented)\n"}
    tables["sales.csv"] = "sale,group,head,date,purpose\ndraw,Ewes,10,2027-05-20,slaughter\n"
    world = small(tables, keys='protects_days = [14, 20]\nkinds = ["ram"]')
    found = [{one.slug for one in judge(world, [dose(day, "Ewes/draw", origin="wish")])} for day in (7, 8)]
    assert found == [set(), {"off-label-withdrawal"}]
    assert {one.slug for one in judge(world, [dose(7, "Ewes/draw")])} == {"use-on-label"}


def test_head_limit_of_a_day_but_one_large_cohort_alone() -> None:
    tables = {"groups.csv": EWES + "Rams,ram,4,90,80\n"}
    together = [dose(7), dose(7, "Rams/stay")]
    assert [len(judge(small(tables, most=most), together)) for most in ("14", "13", "9")] == [0, 1, 1]
    assert judge(small(tables, most="9"), [dose(7)]) == []


def test_the_programme_finds_the_one_dose() -> None:
    answer = solve(small())
    assert answer is not None
    assert (answer.proved, answer.score.stages) == (True, (0, 500, 1, 1))
    assert answer.doses[0].day == may(7)


def test_brute_force_takes_the_least_list() -> None:
    """With 20 days of protection any of 1 to 10 May covers 10 to 20 May: the first day is the least list."""
    best = brute(small(keys="protects_days = [20, 20]"))
    assert [one.day for one in best.doses] == [may(1)]


@pytest.mark.parametrize(("family", "seed"), list(product(FAMILIES, range(1, 3))))
def test_programme_equals_brute_force_on_tiny_farms(family: str, seed: int) -> None:
    world = _world(family, seed, 1)
    answer, best = solve(world), brute(world)
    assert answer is not None
    assert answer.score.stages == best.score.stages


def _world(family: str, seed: int, size: int) -> World:
    farm = random_farm(seed, size, family)
    with tempfile.TemporaryDirectory() as place:
        write_farm(farm, Path(place))
        return read_world(Path(place), farm.today)


def _at_random(world: World, dice: random.Random) -> list[Dose]:
    """Doses without any thought, as wishes, two on the same day, some with their repeat."""
    uses = [(label.id, use) for label in world.farm.labels.values() for use in label.uses]
    day = dice.choice(world.window())
    out = []
    for cohort in dice.sample(sorted(world.cohorts), min(2, len(world.cohorts))):
        for name, use in dice.sample(uses, min(2, len(uses))):
            out.append(Dose(day, cohort, name, use, None, "wish"))
            days = owed_days(world, world.cohorts[cohort], name, use, day)
            if days and dice.random() < 0.5:
                out.append(Dose(days[0], cohort, name, use, day, "wish"))
    return out


def test_random_farms_reach_every_stop_rule() -> None:
    reached: set[str] = set()
    for family, seed in product(("mixed", "directions", "food", "fleece", "mobs", "work"), range(12)):
        world, dice = _world(family, seed, 2), random.Random(seed)
        for _ in range(12):
            reached |= {one.slug for one in judge(world, _at_random(world, dice))}
    assert reached >= SLUGS
