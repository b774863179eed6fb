"""Tasks of every kind: days, figures and statuses."""

from datetime import date
from decimal import Decimal

import pytest

from scheduler.farm import Direction, Finding, Group, Settings, Weighing
from scheduler.labels import Band, Label, RepeatDuty
from scheduler.plan.model import Clear, Protects
from scheduler.season import Season
from scheduler.words import Where
from tests.plan.flock import (
    BEFORE,
    closed,
    dose,
    ewes,
    farm,
    label,
    may,
    of_kind,
    planned,
    prevent,
    risk,
    row,
    sale,
    settings,
    tasks_of,
)

DIRECTION = Direction(
    label="fly", use="guard", groups=("Ewes",), sets_aside=("youngest-age",), signed=may(1), until=may(90), vet="a vet",
    meat_days=10, where=Where("directions.csv", 2),
)  # fmt: skip


def clear_of_one(group: Group, of: Label, own: Settings | None = None, *directions: Direction) -> Clear:
    """Clear dates of a single dose on 20 May."""
    season = Season(farm(groups=(group,), labels={"fly": of}, settings=own or settings()), BEFORE)
    (task,) = of_kind(tasks_of(season, [dose(season, may(20), directions=directions)]), "dose")
    assert task.clear is not None
    return task.clear


def test_eight_days_lie_between_the_dose_and_the_clear_date() -> None:
    assert clear_of_one(ewes(), label()) == Clear(may(29), None, None, may(81))


@pytest.mark.parametrize(
    ("of", "own", "meat"),
    [
        (label(), settings(organic=True), may(37)),
        (label(meat=0), settings(organic=True), may(23)),
        (label(meat=None), settings(), None),
        (label(meat="not-permitted"), settings(), None),
        (label(), settings(sale_margin_days=3), may(29)),
    ],
)
def test_the_clear_date_for_meat(of: Label, own: Settings, meat: date | None) -> None:
    assert clear_of_one(ewes(), of, own).meat == meat


def test_a_dose_by_weight_says_that_it_is_for_the_heaviest() -> None:
    bands = (Band(upto_kg=Decimal(50), ml=Decimal(5)), Band(above_kg=Decimal(50), ml=Decimal(10)))
    season = Season(farm(labels={"fly": label(uses=(prevent(bands=bands),))}), BEFORE)
    (task,) = of_kind(tasks_of(season, [dose(season, may(20))]), "dose")
    said = [because.text for because in task.because if because.rule == "dose-band"]
    assert said == ["Dosed for the heaviest, about 70 kg: too little for it would breed resistance."]


def test_an_off_label_dose_waits_at_least_one_and_a_half_times_as_long() -> None:
    assert clear_of_one(ewes(), label(), None, DIRECTION).meat == may(33)


def test_milk_is_clear_only_where_it_is_used() -> None:
    assert clear_of_one(ewes(milk=True), label()).milk == may(26)
    assert clear_of_one(ewes(milk=True), label(milk=None)).milk is None


def test_the_export_date_is_the_later_of_both_where_the_interval_binds() -> None:
    binds = (("export", False, may(42)), ("slaughter", True, may(42)), ("slaughter", False, None))
    for purpose, exported, clear in binds:
        own = farm(groups=(ewes(export=exported),), sales=(sale(may(100), purpose=purpose),))
        season = Season(own, BEFORE)
        (task,) = of_kind(tasks_of(season, [dose(season, may(20))]), "dose")
        assert task.clear is not None
        assert task.clear.export == clear
    season = Season(farm(labels={"fly": label(export=3)}, sales=(sale(may(100), purpose="export"),)), BEFORE)
    (task,) = of_kind(tasks_of(season, [dose(season, may(20))]), "dose")
    assert task.clear is not None
    assert task.clear.export == may(29)


def test_both_tasks_of_a_course_are_clear_after_its_last_dose() -> None:
    season = Season(farm(), BEFORE)
    tasks = tasks_of(season, [dose(season, may(20)), dose(season, may(41), first_day=may(20))])
    assert [task.clear and task.clear.meat for task in of_kind(tasks, "dose")] == [may(50), may(50)]
    assert [task.day for task in of_kind(tasks, "clear")] == [may(50)]


def test_a_course_without_stated_meat_days_has_no_clear_task() -> None:
    season = Season(farm(labels={"fly": label(meat=None)}), BEFORE)
    assert of_kind(tasks_of(season, [dose(season, may(20))]), "clear") == []


def test_every_figure_of_a_planned_dose() -> None:
    use = prevent(bands=(Band(above_kg=Decimal(0), ml_per_kg=Decimal("0.5"), step_ml=Decimal(5)),))
    lambs = ewes(name="Lambs", kind="lamb", mob="Lambs", heaviest_kg=None, born_first=date(2027, 4, 1),
                 growth_kg_per_day=Decimal("0.2"))  # fmt: skip
    weighing = Weighing(day=date(2027, 5, 1), group="Lambs", heaviest_kg=Decimal("15.5"), where=Where("weights.csv", 2))
    season = Season(
        farm(groups=(lambs,), labels={"fly": label(uses=(use,))}, weighings=(weighing,),
             settings=settings(labour_per_hour=Decimal(12))), BEFORE)  # fmt: skip
    (task,) = of_kind(tasks_of(season, [dose(season, may(21))]), "dose")
    assert (task.cohort, task.group, task.head, task.label, task.use) == ("Lambs/stay", "Lambs", 50, "fly", "guard")
    assert (task.dose_ml, task.task_ml, task.heaviest_kg) == (Decimal(15), Decimal(750), Decimal("20.5"))
    assert task.age_days == 50
    assert task.protects == Protects(may(21), may(62), may(76))
    assert task.money_minor == 750 * 92 * 100 // 2500 + 50 * 10
    assert (task.targets, task.repeat_of, task.status, task.sequence) == (("blowfly-strike",), None, "planned", 0)


def test_the_volume_of_a_task_keeps_every_digit() -> None:
    exact = Decimal("1.0000000000000000000000000000000000001")
    season = Season(farm(labels={"fly": label(uses=(prevent(bands=(Band(ml=exact),)),))}), BEFORE)
    (task,) = of_kind(tasks_of(season, [dose(season, may(20))]), "dose")
    assert str(task.task_ml) == "50.0000000000000000000000000000000000050"


def test_a_recorded_dose_is_a_done_task_with_what_was_given() -> None:
    season = Season(farm(record=(row(may(20), ml_per_head=Decimal("9.5")),)), may(25))
    (task,) = of_kind(tasks_of(season, []), "dose")
    assert (task.status, task.day, task.money_minor) == ("done", may(20), None)
    assert (task.dose_ml, task.task_ml) == (Decimal("9.5"), Decimal(475))
    assert task.clear is not None
    assert task.clear.meat == may(29)


def test_a_missed_dose_has_a_clear_task_and_costs_nothing() -> None:
    earlier = planned(Season(farm(), BEFORE), [may(20)])
    tasks = tasks_of(Season(farm(), may(25)), [], earlier=earlier)
    assert [(task.status, task.money_minor) for task in of_kind(tasks, "dose")] == [("missed", None)]
    assert [(task.day, task.status) for task in of_kind(tasks, "clear")] == [(may(29), "planned")]


def test_a_mob_is_looked_over_on_the_first_day_of_a_run_and_every_seven_days() -> None:
    season = Season(farm(risk=(risk(may(31), may(45)), risk(may(60), may(60)))), BEFORE)
    looks = of_kind(tasks_of(season, []), "recheck")
    assert [task.day for task in looks] == [may(31), may(38), may(45), may(60)]
    assert {(task.cohort, task.group, task.head) for task in looks} == {(None, "Ewes", 50)}


def test_a_look_falls_on_the_open_day_before_and_past_ones_are_left_out() -> None:
    own = settings(closed=closed(may(37), may(38), may(45)))
    season = Season(farm(risk=(risk(may(31), may(60)),), settings=own), may(38))
    days = [task.day for task in of_kind(tasks_of(season, []), "recheck")]
    assert days == [may(38), may(44), may(52), may(59)]


def test_groups_of_a_mob_share_a_look_and_those_not_there_are_not_named() -> None:
    groups = (ewes(), ewes(name="Lambs", kind="lamb", born_first=may(40), growth_kg_per_day=Decimal("0.2")))
    looks = of_kind(tasks_of(Season(farm(groups=groups), BEFORE), []), "recheck")
    assert [(task.day, task.group, task.head) for task in looks[:3]] == [
        (may(31), "Ewes", 50), (may(38), "Ewes", 50), (may(45), "Ewes; Lambs", 100)]  # fmt: skip


def test_treated_sheep_are_looked_at_again_two_days_later_or_on_the_open_day_before() -> None:
    finding = Finding(day=may(9), group="Ewes", what="blowfly-strike", where=Where("findings.csv", 2), head=50)
    for shut, day in (((), may(12)), ((may(12),), may(11)), ((may(12), may(11), may(10)), may(10))):
        season = Season(farm(findings=(finding,), settings=settings(closed=closed(*shut))), may(10))
        looks = of_kind(tasks_of(season, [dose(season, may(10), "struck")]), "recheck")
        assert [task.day for task in looks if task.cohort == "Ewes/stay"] == [day]


def test_a_standing_finding_is_a_day_at_risk() -> None:
    finding = Finding(day=may(9), group="Ewes", what="blowfly-strike", where=Where("findings.csv", 2), head=50)
    season = Season(farm(findings=(finding,)), may(10))
    (opens,) = of_kind(tasks_of(season, [dose(season, may(10), "struck")]), "season-opens")
    assert (opens.day, opens.targets, opens.status) == (may(9), ("blowfly-strike",), "done")


def test_work_is_prepared_on_the_open_day_before_once_a_day() -> None:
    groups = (ewes(), ewes(name="Rams", kind="ram", mob="Rams", head=5))
    season = Season(farm(groups=groups, settings=settings(closed=closed(may(19)))), BEFORE)
    rams = season.cohorts_of_group("Rams")[0]
    tasks = tasks_of(season, [dose(season, may(20)), dose(season, may(20), cohort=rams), dose(season, may(70))])
    assert [(task.day, task.group, task.head) for task in of_kind(tasks, "prepare")] == [
        (may(18), "Ewes; Rams", 55), (may(69), "Ewes", 50)]  # fmt: skip


def test_work_of_today_is_prepared_today() -> None:
    season = Season(farm(), may(20))
    assert [task.day for task in of_kind(tasks_of(season, [dose(season, may(20))]), "prepare")] == [may(20)]


def test_sales_keep_their_day_and_past_ones_are_done() -> None:
    sales = (sale(may(20), head=10), sale(may(100), name="Later", head=40))
    season = Season(farm(sales=sales, settings=settings(closed=closed(may(100)))), may(21))
    tasks = of_kind(tasks_of(season, []), "sale")
    assert [(task.day, task.head, task.cohort, task.status) for task in tasks] == [
        (may(20), 10, "Ewes/Mart", "done"), (may(100), 40, "Ewes/Later", "planned")]  # fmt: skip


def test_a_sale_moved_keeps_its_uid() -> None:
    earlier = planned(Season(farm(sales=(sale(may(100)),)), BEFORE), [])
    moved = of_kind(tasks_of(Season(farm(sales=(sale(may(105)),)), BEFORE), [], earlier=earlier), "sale")
    assert [(task.uid, task.sequence) for task in moved] == [(of_kind(earlier.tasks, "sale")[0].uid, 1)]


def test_an_unconfirmed_label_says_draft() -> None:
    for checked, draft in ((None, True), (may(1), True), (BEFORE, False)):
        season = Season(farm(labels={"fly": label(checked=checked)}), BEFORE)
        tasks = tasks_of(season, [dose(season, may(20))])
        told = [task for task in tasks if task.kind in ("dose", "prepare", "order", "clear")]
        assert len(told) == 4
        assert {"label not confirmed" in task.text for task in told} == {draft}


def test_a_dose_says_what_it_covers_and_what_holds_it_there() -> None:
    season = Season(farm(sales=(sale(may(100)),)), BEFORE)
    (task,) = of_kind(tasks_of(season, [dose(season, may(20))]), "dose")
    assert [(because.rule, because.text) for because in task.because] == [
        ("cover-gap", "Blowfly strike: covers 30 days at risk, 31 May 2027 to 29 Jun 2027, level up to 0.6."),
        ("too-early", "First day at risk that it covers: 31 May 2027, 11 days after the dose; 21 days allowed."),
        ("meat-withdrawal", "Clear on 29 May 2027; Mart is on 8 Aug 2027 (sales.csv, row 2)."),
    ]


def test_a_repeat_says_when_the_label_asks_for_it() -> None:
    use = prevent(repeats=(RepeatDuty(after_days=21, ml=Decimal(8)),))
    season = Season(farm(labels={"fly": label(uses=(use,))}), BEFORE)
    tasks = of_kind(tasks_of(season, [dose(season, may(20)), dose(season, may(42), first_day=may(20))]), "dose")
    assert tasks[1].dose_ml == 8
    assert tasks[1].because[0].text == (
        "The label obliges a second dose 21 days after that of 20 May 2027, due 10 Jun 2027 to 13 Jun 2027."
    )


def test_tasks_stand_in_order_of_day_kind_and_uid() -> None:
    season = Season(farm(), BEFORE)
    tasks = tasks_of(season, [dose(season, may(31))])
    assert [task.kind for task in tasks if task.day == may(31)] == ["season-opens", "dose", "recheck"]
    assert [task.day for task in tasks] == sorted(task.day for task in tasks)
    assert len({task.uid for task in tasks}) == len(tasks)


def test_the_order_of_the_groups_in_their_table_changes_no_task() -> None:
    lambs = ewes(name="Lambs", kind="lamb", born_first=may(1), growth_kg_per_day=Decimal("0.2"))
    plans = [tasks_of(Season(farm(groups=groups), BEFORE), []) for groups in ((ewes(), lambs), (lambs, ewes()))]
    assert plans[0] == plans[1]
