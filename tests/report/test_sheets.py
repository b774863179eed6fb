"""Job sheets: every planned dose stands on the sheet of its day, smallest dose first, with more loaded than given."""

from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from scheduler.labels import Lot
from scheduler.report import JobSheet, Parting, SeasonReport, Turn, job_sheets
from tests.outputs.pieces import cohort, day, dose, label, plan, report
from tests.outputs.plans import large_report, rich_report

EWES, LAMBS = cohort("Ewes", 180), cohort("Lambs", 60, "Draft", day(9, 20))
FOUND = replace(cohort("Ewes", 3), id="Ewes/found-4")


def turns(sheet: JobSheet) -> list[Turn]:
    """The turns of a sheet as they are printed."""
    return [turn for gather in sheet.gathers for block in gather.blocks for turn in block.turns]


def day_of(*doses: tuple[str, str]) -> SeasonReport:
    """Ewes, lambs and ewes found apart, each with millilitres of a label on one day."""
    whose = {"ewes": EWES, "lambs": LAMBS, "found": FOUND}
    tasks = tuple(
        replace(dose(whose[who], day(6, 1)), dose_ml=Decimal(ml), task_ml=Decimal(ml) * whose[who].head)
        for who, ml in doses
    )
    return report(plan(cohorts=(EWES, LAMBS, FOUND), tasks=tasks), labels=(label(),))


def test_every_planned_dose_stands_once_on_the_sheet_of_its_day() -> None:
    for told in (rich_report(), large_report()):
        wanted = [task for task in told.plan.tasks if task.kind == "dose" and task.status == "planned"]
        listed = [(sheet.day, task.uid) for sheet in job_sheets(told) for turn in turns(sheet) for task in turn.tasks]
        assert sorted(listed) == sorted((task.day, task.uid) for task in wanted)


def test_places_count_on_over_all_gathers_of_a_day() -> None:
    for sheet in job_sheets(large_report()):
        assert [turn.place for turn in turns(sheet)] == list(range(1, len(turns(sheet)) + 1))


def test_the_smallest_dose_comes_first_and_found_sheep_last() -> None:
    (sheet,) = job_sheets(day_of(("ewes", "30"), ("found", "10"), ("lambs", "20")))
    assert [turn.first.cohort for turn in turns(sheet)] == ["Lambs/Draft", "Ewes/stay", "Ewes/found-4"]
    assert sheet.head == 243


def test_parts_of_a_group_that_get_the_same_come_through_together() -> None:
    lots = Lot(Decimal(8), Decimal(10), Decimal(5)), Lot(Decimal(10), Decimal(12), Decimal(10))
    stay = cohort("Lambs", 30)
    doses = [dose(whose, day(6, 1)) for whose in (LAMBS, stay, EWES)]
    partings = (Parting(doses[0].uid, tuple(zip(lots, (20, 40), strict=True))),
                Parting(doses[1].uid, tuple(zip(lots, (10, 20), strict=True))))  # fmt: skip
    made = plan(cohorts=(EWES, LAMBS, stay), tasks=tuple(doses))
    (sheet,) = job_sheets(report(made, labels=(label(),), partings=partings))
    ewes, lambs = turns(sheet)
    assert (ewes.whom, ewes.head, ewes.split) == ("Ewes", 180, "")
    assert (lambs.whom, lambs.head, lambs.ml) == ("Lambs (60 for Draft and 30 that stay)", 90, Decimal(945))
    assert "about 30 head: 5 ml" in lambs.split
    assert "about 60 head: 10 ml" in lambs.split


def test_a_repeat_does_not_come_through_with_a_first_dose() -> None:
    first, again = dose(LAMBS, day(6, 1)), dose(cohort("Lambs", 30), day(6, 1), repeat_of="earlier")
    (sheet,) = job_sheets(report(plan(cohorts=(LAMBS,), tasks=(first, again)), labels=(label(),)))
    assert [turn.head for turn in turns(sheet)] == [60, 30]


@settings(deadline=None, max_examples=50)
@given(st.decimals(Decimal("0.1"), 100, places=2))
def test_what_is_loaded_is_whole_and_five_percent_more_or_up_to_a_millilitre_above(ml: Decimal) -> None:
    ((load,),) = [sheet.loads for sheet in job_sheets(day_of(("ewes", str(ml))))]
    assert load.doses_ml == ml * 180
    assert load.load_ml is not None
    assert load.load_ml == int(load.load_ml)
    assert 0 <= load.load_ml - ml * 180 * Decimal("1.05") < 1


def test_a_dose_without_millilitres_leaves_the_load_open() -> None:
    told = day_of(("ewes", "30"))
    open_dose = replace(told.plan.tasks[0], cohort=LAMBS.id, dose_ml=None, task_ml=None)
    (sheet,) = job_sheets(replace(told, plan=replace(told.plan, tasks=(*told.plan.tasks, open_dose))))
    assert [load.load_ml for load in sheet.loads] == [None]


def test_a_sheet_names_weather_kit_and_days_without_handling_of_its_labels() -> None:
    (sheet,) = job_sheets(day_of(("ewes", "30")))
    assert sheet.weather == ("Demo hill pour on (invented): dry wool, and no rain for 6 hours after; otherwise wait.",)
    assert any("applicator" in thing for thing in sheet.kit)
    assert "waterproof apron" in sheet.clothing
    assert ["14 days" in text for text in sheet.after] == [True]
    assert sheet.is_draft


def test_a_day_that_is_done_has_no_sheet() -> None:
    told = day_of(("ewes", "30"))
    done = replace(told.plan.tasks[0], status="done")
    assert job_sheets(replace(told, plan=replace(told.plan, tasks=(done,)))) == ()


def test_what_has_to_be_drawn_and_marked_stands_on_the_sheet() -> None:
    told = rich_report()
    marked = replace(told.plan.conflicts[2], rule="draw-and-mark", day=day(5, 27), text="draw and mark Top lambs")
    first, second, *_ = job_sheets(replace(told, plan=replace(told.plan, conflicts=(marked,))))
    assert (first.marks, second.marks) == (("draw and mark Top lambs",), ())


def test_uneven_sheep_are_parted_where_the_label_s_dose_changes() -> None:
    told = day_of(("lambs", "20"))
    lots = (Lot(Decimal(8), Decimal(10), Decimal(5)), 20), (Lot(Decimal(10), Decimal("16.755"), Decimal(10)), 40)
    (sheet,) = job_sheets(replace(told, partings=(Parting(told.plan.tasks[0].uid, lots),)))
    assert [turn.split for turn in turns(sheet)] == [
        "part at 10 kg. 8 to 10 kg, about 20 head: 5 ml a head; 10 to 16.76 kg, about 40 head: 10 ml a head"
    ]
