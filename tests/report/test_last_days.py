"""The last safe days against the rules: on that day no withdrawal rule is broken before the sale, a day later is."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from scheduler.farm import Farm, Group, Sale, Settings
from scheduler.labels import Band, Days, Label, Pack, RepeatDuty, Use
from scheduler.report import LastDay, last_days_of
from scheduler.season import Course, Dose, Season, clear_day, sale_bar
from scheduler.words import Kind, Purpose, Where
from tests.outputs.pieces import END, START, TODAY, day

PLACE = Where("farm.toml")
SALE = day(9, 20)


def label(
    meat: Days, export: Days = None, repeats: tuple[RepeatDuty, ...] = (), kinds: tuple[Kind, ...] = ("lamb",)
) -> Label:
    """An invented pour-on with one prevent use."""
    use = Use(id="guard", targets=("blowfly-strike",), purpose="prevent", kinds=kinds, bands=(Band(ml=Decimal(5)),),
              repeats=repeats, where=PLACE)  # fmt: skip
    return Label(id="fly", name="Demo fly (invented)", active="cypermethrin", chemical_group="synthetic pyrethroid",
                 form="pour-on", meat=meat, export=export, packs=(Pack(ml=Decimal(1000), price=Decimal(40)),),
                 uses=(use,), where=PLACE)  # fmt: skip


def season(of: Label, purpose: Purpose = "slaughter", organic: bool = False, export: bool = False, margin: int = 0,
           today: date = TODAY) -> Season:  # fmt: skip
    """Lambs of April that are sold on 20 September; from 2.5 kg at birth the lightest gain 0.15 kg a day."""
    settings = Settings(
        id="f", name="Invented", country="GB", timezone="Europe/London", latitude=Decimal(54), longitude=Decimal(-2),
        start=START, end=END, currency="GBP", act_level={}, organic=organic, sale_margin_days=margin,
    )  # fmt: skip
    lambs = Group(name="Lambs", kind="lamb", head=30, mob="Hill", born_first=day(4, 1), born_last=day(4, 20),
                  growth_kg_per_day=Decimal("0.2"), export=export, where=PLACE)  # fmt: skip
    sale = Sale(name="Draft", group="Lambs", head=30, day=SALE, purpose=purpose, where=PLACE)
    return Season(Farm(settings=settings, groups=(lambs,), sales=(sale,), labels={"fly": of}), today)


def last_day(of: Season) -> LastDay:
    """The last day of the one label before the one sale."""
    ((line,),) = [sale.labels for sale in last_days_of(of)]
    return line


def course(of: Season, on: date, repeat_after: int | None = None) -> Course:
    """A course of the label begun on a day."""
    (cohort,), (medicine,) = of.cohorts, of.farm.labels.values()
    first = Dose(day=on, cohort=cohort, label=medicine, use=medicine.uses[0])
    if repeat_after is None:
        return Course(first=first)
    again = Dose(
        day=on + timedelta(days=repeat_after), cohort=cohort, label=medicine, use=medicine.uses[0], first_day=on
    )
    return Course(first=first, repeat=again)


@pytest.mark.parametrize("margin", [0, 3])
@pytest.mark.parametrize("organic", [False, True])
@pytest.mark.parametrize("purpose", ["slaughter", "export"])
@pytest.mark.parametrize("meat", [0, 1, 8, 40])
def test_the_last_day_is_lawful_and_the_next_is_not(meat: int, purpose: Purpose, organic: bool, margin: int) -> None:
    of = season(label(meat, export=21), purpose, organic, margin=margin)
    found = last_day(of).day
    assert found is not None
    assert sale_bar(of, course(of, found)) is None
    after = found + timedelta(days=1)
    assert after == SALE or sale_bar(of, course(of, after)) is not None


def test_export_sheep_sent_to_slaughter_keep_the_export_interval() -> None:
    line = last_day(season(label(8, export=21), export=True))
    assert (line.day, line.counted) == (day(8, 29), "21 days for export")


def test_a_store_sale_goes_with_no_withdrawal_running_and_without_the_margin() -> None:
    of = season(label(8), "store", margin=5)
    assert last_day(of).day == day(9, 11)
    assert clear_day(day(9, 11), 8) == SALE


@pytest.mark.parametrize(("of", "counted"), [
    (label(None), "meat withdrawal not stated: ask the vet"),
    (label("not-permitted"), "never for sheep that are to be eaten"),
    (label(8, kinds=("ewe",)), "no use for lamb on this label"),
    (label(200), "200 days for meat: before they are here"),
])  # fmt: skip
def test_where_no_day_will_do_it_says_why(of: Label, counted: str) -> None:
    line = last_day(season(of))
    assert (line.day, line.counted) == (None, counted)


def test_an_export_interval_that_is_not_stated_leaves_no_day() -> None:
    assert last_day(season(label(8), "export")).day is None


def test_a_first_dose_that_obliges_a_repeat_stands_before_it() -> None:
    of = season(label(8, repeats=(RepeatDuty(after_days=21, ml=Decimal(5)),)))
    line = last_day(of)
    (repeat,) = line.repeats
    assert line.day == day(9, 11)
    assert repeat.day == day(8, 21)
    assert sale_bar(of, course(of, day(8, 21), 21)) is None
    assert sale_bar(of, course(of, day(8, 22), 21)) is not None


def test_lambs_too_heavy_for_the_repeat_need_none() -> None:
    light = RepeatDuty(after_days=21, ml=Decimal(5), upto_kg=Decimal(10))
    assert last_day(season(label(8, repeats=(light,)))).repeats == ()


def test_a_day_gone_by_is_said_and_a_sale_gone_by_is_left_out() -> None:
    assert last_day(season(label(8), today=day(9, 12))).is_past
    assert not last_day(season(label(8), today=day(9, 11))).is_past
    assert last_days_of(season(label(8), today=SALE + timedelta(days=1))) == ()
