"""The scenery beside the plan: events, closed days, gathers, labels and cautions of a small farm built by hand."""

from datetime import date
from decimal import Decimal

from msgspec.structs import replace

from scheduler.facts import facts
from scheduler.farm import ClosedDays, Direction, Event, Farm, Group, Sale, Settings
from scheduler.labels import Band, Label, Pack, Use
from scheduler.report import Plan, SeasonReport, cautions_of, report_of
from scheduler.words import Span, Where
from tests.outputs.pieces import END, START, TODAY, cohort, day, dose, plan, runs

PLACE = Where("farm.toml")
EWES = cohort("Ewes", 20)
LAMBS = cohort("Lambs", 30, "Draft", day(9, 20))


def label(name: str, checked: date | None) -> Label:
    """An invented label with one prevent and one treat use."""
    return Label(
        id=name, name=f"Demo {name} (invented)", active="cypermethrin", chemical_group="synthetic pyrethroid",
        form="pour-on", checked=checked, packs=(Pack(ml=Decimal(1000), price=Decimal(40)),), where=PLACE,
        uses=(
            Use(id="guard", targets=("blowfly-strike",), purpose="prevent", kinds=("ewe", "lamb"), bands=(Band(),),
                method="Along the back.", where=PLACE),
            Use(id="cure", targets=("lice",), purpose="treat", kinds=("ewe",), bands=(Band(),), where=PLACE),
        ),
    )  # fmt: skip


def farm() -> Farm:
    """Ewes and lambs of one mob until weaning, closed on two days in the season and one after it."""
    settings = Settings(
        name="Demo", id="demo", country="GB", timezone="Europe/London", latitude=Decimal(54), longitude=Decimal(-2),
        holding="00/1", start=START, end=END, currency="JPY", remind=("-PT6H",),
        closed=(ClosedDays(text="x", days=frozenset((day(6, 1), day(6, 2), date(2028, 1, 1))), where=PLACE),),
        act_level={"blowfly-strike": Decimal("0.3"), "ticks": Decimal("0.4")},
        targets=("blowfly-strike", "ticks"),
    )  # fmt: skip
    groups = [
        Group(name="Ewes", kind="ewe", head=20, mob="Hill", where=PLACE),
        Group(name="Lambs", kind="lamb", head=30, mob="Hill", born_first=day(4, 1), where=PLACE),
    ]
    events = [
        Event(what="weaning", first=day(8, 1), last=day(8, 1), groups=("Lambs",), where=PLACE),
        Event(what="shearing", first=day(6, 20), last=day(6, 21), groups=("Ewes",), where=PLACE),
        Event(what="lambing", first=date(2026, 3, 1), last=date(2026, 4, 1), groups=("Ewes",), where=PLACE),
    ]
    return Farm(
        settings=settings,
        groups=tuple(groups),
        events=tuple(events),
        sales=(Sale(name="Draft", group="Lambs", head=30, day=day(9, 20), purpose="slaughter", where=PLACE),),
        labels={name: label(name, checked) for name, checked in (("fly", TODAY), ("late", END), ("idle", None))},
    )


def made() -> Plan:
    """Doses at shearing, on a day of their own, and after weaning; one done, one called off."""
    tasks = (
        dose(EWES, day(6, 20), "fly"),
        dose(LAMBS, day(6, 21), "fly"),
        dose(LAMBS, day(8, 1), "fly"),
        dose(LAMBS, day(8, 2), "late"),
        dose(EWES, day(8, 2), "fly", status="done"),
        dose(EWES, day(9, 1), "idle", status="cancelled"),
    )
    days = (*runs(EWES, "ticks", (START, "0", "low")), *runs(EWES, "blowfly-strike", (START, "0", "low")))
    return plan(cohorts=(EWES, LAMBS), tasks=tasks, days=days)


def told() -> SeasonReport:
    """The report of that plan."""
    return report_of(made(), farm(), ("Caution.",))


def test_events_stand_by_date_and_only_where_they_touch_the_season() -> None:
    assert [(event.what, event.first) for event in told().events] == [
        ("shearing", day(6, 20)),
        ("weaning", day(8, 1)),
    ]


def test_closed_days_are_joined_and_held_to_the_season() -> None:
    assert told().closed == (Span(day(6, 1), day(6, 2)),)


def test_planned_doses_share_the_gather_of_their_mob_and_weaned_lambs_have_their_own() -> None:
    assert [(g.mob, g.day, g.cohorts, g.event) for g in told().gathers] == [
        ("Hill", day(6, 20), ("Ewes/stay",), "shearing"),
        ("Hill", day(6, 21), ("Lambs/Draft",), "shearing"),
        ("Hill", day(8, 1), ("Lambs/Draft",), "weaning"),
        ("Hill weaned", day(8, 2), ("Lambs/Draft",), None),
    ]


def test_only_labels_in_use_are_told_and_one_checked_later_is_not_confirmed() -> None:
    assert [(label.id, label.confirmed) for label in told().labels] == [("fly", True), ("late", False)]


def test_the_rest_is_as_the_farm_says() -> None:
    report = told()
    assert (report.holding, report.exponent, report.remind) == ("00/1", 0, ("-PT6H",))
    assert report.act_levels == (("ticks", Decimal("0.4")), ("blowfly-strike", Decimal("0.3")))
    assert [(sale.name, sale.purpose) for sale in report.sales] == [("Draft", "slaughter")]
    assert report.cautions == ("Caution.",)


def of(*when: str) -> set[str]:
    """The cautions that are told in one of these cases alone."""
    return {caution.text for caution in facts().cautions if caution.when in when}


def test_cautions_follow_form_sheep_and_weights() -> None:
    assert set(cautions_of(made(), farm())) == of("always", "pour-on", "lambs", "estimate")


def test_a_plan_without_doses_keeps_the_usual_cautions() -> None:
    assert set(cautions_of(plan(), farm())) == of("always")


def test_treatment_direction_and_organic_bring_their_cautions() -> None:
    cure = replace(dose(EWES, day(6, 20), "fly"), use="cure", heaviest_kg=None)
    direction = Direction(
        label="fly", use="cure", groups=("Ewes",), sets_aside=(), signed=TODAY, until=END, vet="Vet", where=PLACE
    )
    organic = replace(farm(), directions=(direction,), settings=replace(farm().settings, organic=True))
    assert set(cautions_of(plan(cohorts=(EWES,), tasks=(cure,)), organic)) == of(
        "always", "pour-on", "treat", "organic", "off-label"
    )
