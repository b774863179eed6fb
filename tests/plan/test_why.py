"""What a dose buys, its next best day and its room to move, held to whole plans and to the judge."""

from collections.abc import Iterator
from datetime import date
from decimal import Decimal

import pytest
from msgspec.structs import replace

from scheduler.farm import Farm, Finding
from scheduler.labels import RepeatDuty
from scheduler.plan import Change, Plan, Why, make_plan, plan_to_explain
from scheduler.plan.placed import PlacedPlan
from scheduler.plan.room import Room
from scheduler.plan.settle import answer, question_of
from scheduler.planner import Memory
from scheduler.season import Course, Dose, Doses, Season
from scheduler.verify import sums_of, unlawful
from scheduler.words import Where
from tests.oracle.farms import random_farm
from tests.plan.flock import BEFORE, closed, farm, label, may, prevent, risk, row, settings
from tests.properties.planning import SMALL_SEEDS, farm_of, never

SHORT = prevent(protects_days=(14, 20))
"""Covers 14 days."""


def counts(plan: Plan) -> tuple[int, int, int]:
    """What plans are compared by."""
    return (plan.score.exposed_sheep_days, plan.score.money_minor, plan.score.handlings)


def explained(of: Farm) -> tuple[Plan, list[Why]]:
    """The plan of a farm with every planned dose explained, ties decided."""
    plan, explainer = plan_to_explain(of, BEFORE, None, never)
    doses = [task for task in plan.tasks if task.kind == "dose"]
    return plan, [explainer.one(task, never) for task in doses]


SEASONS = {
    "one run": (risk(may(31), may(60)),),
    "three runs": (risk(may(10), may(20)), risk(may(40), may(55), "0.7"), risk(may(80), may(120))),
    "all summer": (risk(may(1), may(140)),),
}
LABELS = {
    "six weeks": label(),
    "a fortnight, 21 days apart": label(uses=(SHORT,), repeat_interval=21),
    "three in the season": label(uses=(prevent(protects_days=(28, 35)),), most_per_season=3),
}


@pytest.mark.parametrize("season", SEASONS)
@pytest.mark.parametrize("of", LABELS)
def test_what_a_dose_buys_is_a_plan_with_one_course_fewer_and_none_on_its_day(of: str, season: str) -> None:
    """Held to whole plans of changed farms: that day closed, and one course fewer allowed by the label."""
    one = farm(labels={"fly": LABELS[of]}, risk=SEASONS[season])
    plan, whys = explained(one)
    assert whys
    for why in whys:
        task = next(task for task in plan.tasks if task.uid == why.uid)
        fewer = {"fly": replace(LABELS[of], most_per_season=len(whys) - 1)}
        without = make_plan(
            replace(one, labels={} if len(whys) == 1 else fewer, settings=settings(closed=closed(task.day))),
            BEFORE, None, never,
        )  # fmt: skip
        assert why.buys == change(plan, without)


@pytest.mark.parametrize("season", SEASONS)
@pytest.mark.parametrize("of", LABELS)
def test_the_next_best_day_is_that_of_a_plan_with_the_day_closed(of: str, season: str) -> None:
    one = farm(labels={"fly": LABELS[of]}, risk=SEASONS[season])
    plan, whys = explained(one)
    for why in whys:
        task = next(task for task in plan.tasks if task.uid == why.uid)
        without = make_plan(replace(one, settings=settings(closed=closed(task.day))), BEFORE, None, never)
        assert why.next_best is not None
        assert why.next_best.change == change(plan, without)
        assert why.next_best.day != task.day


def lone_farms(most: int) -> Iterator[tuple[Farm, date]]:
    """Random farms with one cohort and one target, so that a closed day bars its doses and nothing else."""
    found = 0
    for seed in range(200):
        made = random_farm(seed, 2, "plain")
        one = farm_of(made.files, made.today)
        season = Season(one, made.today)
        if len(season.cohorts) == len(season.targets) == 1 and found < most:
            found += 1
            yield one, made.today


def test_on_random_farms_too_both_are_differences_of_whole_plans() -> None:
    """The next best day against that day closed; what the only dose buys against the farm without labels."""
    held = 0
    for one, today in lone_farms(12):
        plan, explainer = plan_to_explain(one, today, None, never)
        doses = [task for task in plan.tasks if task.kind == "dose" and task.repeat_of is None]
        for task in doses:
            why = explainer.one(task, never)
            shut = replace(one.settings, closed=(*one.settings.closed, *closed(task.day)))
            without = make_plan(replace(one, settings=shut), today, None, never)
            assert why.next_best is not None
            assert change(plan, without) == why.next_best.change
            if len(doses) == 1:
                assert change(plan, make_plan(replace(one, labels={}), today, None, never)) == why.buys
            held += 1
    assert held > 10


def change(plan: Plan, other: Plan) -> Change:
    """What another plan has more."""
    return Change(*(new - old for new, old in zip(counts(other), counts(plan), strict=True)))


@pytest.mark.parametrize("family", SMALL_SEEDS)
def test_room_to_move_is_what_the_judge_says_of_the_dose_moved(family: str) -> None:
    """Lawful days, exposure, money and handlings of every planned dose on every day, by the judge's own sums."""
    made = random_farm(SMALL_SEEDS[family], 2, family)
    season = Season(farm_of(made.files, made.today), made.today)
    question = question_of(season, (), {})
    settled = answer(question, never, memory=Memory())
    plan = PlacedPlan(question, settled)
    for dose in settled.doses:
        if dose.is_ours and dose.origin == "plan":
            room = Room(plan, plan.place(dose))
            course = settled.doses.course_of(dose)
            for day in season.window.days():
                held(plan, room, course, day)


def held(plan: PlacedPlan, room: Room, course: Course, day: date) -> None:
    """The judge agrees on one dose moved to one day."""
    season, swap = plan.question.season, room.at(day)
    ours = [dose for dose in course.doses if dose.is_ours]
    if swap is None:
        if len(course.doses) == 1:
            assert day == room.place.dose.day or is_barred(plan, ours, [replace(ours[0], day=day)])
        return
    new = [dose for dose in room.place.lot.courses[swap.number].doses if dose.is_ours]
    assert not is_barred(plan, ours, new)
    sums, old = sums_of(season, exchanged(plan, ours, new)), plan.settled.sums
    assert swap.exposed_sheep_days == sums.exposed_sheep_days - old.exposed_sheep_days
    assert swap.money_minor == sums.money_minor - old.money_minor
    assert swap.paid_gathers == sums.paid_gathers - old.paid_gathers
    assert swap.handlings == sums.handlings - old.handlings


def exchanged(plan: PlacedPlan, out: list[Dose], new: list[Dose]) -> Doses:
    """The doses of the plan with some exchanged."""
    gone = {(dose.key, dose.first_day, dose.origin) for dose in out}
    kept = [dose for dose in plan.settled.doses if (dose.key, dose.first_day, dose.origin) not in gone]
    return Doses([*kept, *new])


def is_barred(plan: PlacedPlan, out: list[Dose], new: list[Dose]) -> bool:
    """Whether the judge finds a breach, or the new dose would owe a repeat that is not there."""
    return bool(unlawful(plan.question.season, exchanged(plan, out, new)))


def test_a_dose_may_slip_for_nothing_up_to_a_day_and_then_costs_every_day() -> None:
    """Made on the latest day that covers 31 May to 29 June: 42 days from 19 May reach 29 June."""
    _, (why,) = explained(farm())
    assert why.slip is not None
    assert why.slip.free_to == may(31)
    assert [(later.day, later.exposed_sheep_days, later.money_minor) for later in why.slip.then[:3]] == [
        (may(32), 50, 0), (may(33), 100, 0), (may(34), 150, 0),
    ]  # fmt: skip


def test_a_treatment_has_its_day_and_every_later_one_costs_the_struck_ewes() -> None:
    found = Finding(day=may(10), group="Ewes", what="blowfly-strike", head=50, where=Where("findings.csv", 2))
    one = farm(risk=(risk(may(1), may(2), "0"),), findings=(found,))
    plan, explainer = plan_to_explain(one, may(10), None, never)
    dose = next(task for task in plan.tasks if task.kind == "dose")
    why = explainer.one(dose, never)
    assert dose.day == may(10)
    assert why.earliest is not None
    assert why.latest is not None
    assert (why.earliest.day, why.earliest.rule) == (may(10), None)
    assert (why.latest.day, why.latest.rule) == (may(10), "infested-now")
    assert why.slip is not None
    assert why.slip.then[0].exposed_sheep_days == 50


def test_a_repeat_owed_to_the_record_keeps_to_the_days_of_the_label() -> None:
    """First dose of 10 May, repeat after 21 days, 3 days of slack: 31 May to 3 June; it buys nothing to be told."""
    repeat = RepeatDuty(after_days=21, ml=Decimal(10))
    one = farm(labels={"fly": label(uses=(prevent(repeats=(repeat,)),))}, record=(row(may(10)),))
    plan, explainer = plan_to_explain(one, may(11), None, never)
    task = next(task for task in plan.tasks if task.kind == "dose" and task.status == "planned")
    why = explainer.one(task, never)
    assert why.earliest is not None
    assert why.latest is not None
    window = "The label has this repeat from 31 May 2027 to 3 Jun 2027."
    assert (why.earliest.day, why.earliest.rule, why.earliest.text) == (may(31), "lamb-repeat", window)
    assert (why.latest.day, why.latest.rule, why.latest.text) == (may(34), "lamb-repeat", window)
    assert (why.buys, why.others) == (None, None)
