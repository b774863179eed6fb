"""The judge finds exactly the rule that a seeded fault breaks: a lawful plan, then one dose moved, added or left out.

Days are of May 2027; each pair stands a day to this and to that side of the limit, counted by hand.
"""

from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

import pytest
from msgspec.structs import replace

from scheduler.farm import Direction
from scheduler.labels import Band, NotWith, RepeatDuty
from scheduler.rules import RULES
from scheduler.season import Dose, Doses, Season
from scheduler.verify import stop_breaches
from scheduler.words import Where
from tests.plan.flock import closed, ewes, may, row, sale
from tests.season.hill import event
from tests.verify.farm import CURE, FLY, GUARD, broken, given, season, working

Plan = tuple[dict[str, Any], ...]
AGAIN = replace(GUARD, repeats=(RepeatDuty(after_days=7, ml=Decimal(3)),))
OTHER = replace(FLY, id="other", active="diazinon", chemical_group="organophosphate")
KEEP_OFF = NotWith(chemical_group="organophosphate", days=5)
DONE_IS_DONE = ("closed-day", "daily-head", "away", "lambing-quiet")
SHORN = (event("shearing", may(2)),)


def direction(**changed: Any) -> Direction:
    """A vet's direction to use the guard on the ewes whatever their fleece."""
    standard = Direction(
        label="fly", use="guard", groups=("Ewes",), sets_aside=("fleece-weeks",), signed=may(1), until=may(60),
        vet="A. Nother (invented)", meat_days=10, where=Where("directions.csv", 2),
    )  # fmt: skip
    return replace(standard, **changed)


def labelled(use: Any = GUARD, **changed: Any) -> dict[str, Any]:
    """The table of labels with this guard, and keys of the label changed."""
    return {"labels": {"fly": replace(FLY, uses=(use, CURE), **changed)}}


@dataclass(frozen=True)
class Fault:
    """Two plans of one farm: the first lawful, the second breaking just this rule. A plan: keys of `given`."""

    slug: str
    lawful: Plan
    unlawful: Plan
    farm: dict[str, Any] = field(default_factory=dict)


def on(*days: int, **changed: Any) -> Plan:
    """Guards on these days."""
    return tuple({"day": day, **changed} for day in days)


def course(first: int, again: int) -> Plan:
    """A first dose and its repeat."""
    return ({"day": first}, {"day": again, "first_day": may(first)})


FAULTS = [
    Fault("use-on-label", on(5), on(5, use="struck")),
    Fault("youngest-age", on(10, who="Lambs/stay"), on(9, who="Lambs/stay"),
          labelled(replace(GUARD, youngest_days=20))),
    Fault("dose-band", on(5), on(5, who="Lambs/stay"), labelled(replace(GUARD, bands=(Band(
        above_kg=Decimal(22), ml=Decimal(5)),)))),
    Fault("lamb-repeat", course(5, 12), on(5), labelled(AGAIN)),
    Fault("lamb-repeat", course(5, 15), course(5, 16), labelled(AGAIN)),
    Fault("repeat-interval", on(5, 12), on(5, 11)),
    Fault("season-maximum", on(5), on(5, 19), labelled(most_per_season=1)),
    Fault("fleece-weeks", on(9, 30), on(8, 30), {
        **labelled(replace(GUARD, fleece_weeks=(1, 4))), "events": SHORN}),
    Fault("product-clash", ({"day": 5}, {"day": 10, "label": "other"}), ({"day": 5}, {"day": 9, "label": "other"}), {
        "labels": {"fly": replace(FLY, not_with=(KEEP_OFF,)), "other": OTHER}}),
    Fault("meat-withdrawal", on(11, who="Ewes/Mart"), on(12, who="Ewes/Mart"), {"sales": (sale(may(20)),)}),
    Fault("milk-withdrawal", on(5, who="Lambs/stay"), on(5), {
        "groups": (ewes(mob="Hill", milk=True), *season().farm.groups[1:]), **labelled(milk=None)}),
    Fault("export-interval", on(18, who="Ewes/Mart"), on(19, who="Ewes/Mart"), {
        "groups": (ewes(mob="Hill", export=True),), "sales": (sale(may(40)),)}),
    Fault("wool-interval", on(9), on(10), {"events": (event("shearing", may(20)),), **labelled(wool=10)}),
    Fault("organic-withdrawal", on(13, who="Ewes/Mart"), on(14, who="Ewes/Mart"), {
        "settings": working(organic=True), "sales": (sale(may(30)),)}),
    Fault("off-label-withdrawal", on(17, who="Ewes/Mart", origin="wish"), on(18, who="Ewes/Mart", origin="wish"), {
        **labelled(replace(GUARD, fleece_weeks=(20, 52))), "events": SHORN, "sales": (sale(may(30)),),
        "directions": (direction(),)}),
    Fault("repeat-before-sale", tuple({**dose, "who": "Ewes/Mart"} for dose in course(4, 11)),
          tuple({**dose, "who": "Ewes/Mart"} for dose in course(5, 12)), {
        "sales": (sale(may(20)),), **labelled(AGAIN)}),
    Fault("closed-day", on(6), on(5), {"settings": working(closed=closed(may(5)))}),
    Fault("daily-head", ({"day": 5}, {"day": 6, "who": "Lambs/stay"}), ({"day": 5}, {"day": 5, "who": "Lambs/stay"}), {
        "settings": working(most_head_per_day=60)}),
    Fault("away", on(8), on(7), {"events": (event("away", may(5), may(7)),)}),
    Fault("lambing-quiet", on(9), on(8), {"events": (event("lambing", may(5), may(8)),)}),
    Fault("too-early", on(5, 30), on(5, 31)),
]  # fmt: skip


def doses(of: Season, plan: Plan) -> list[Dose]:
    """The doses of a plan."""
    return [given(of, **dose) for dose in plan]


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.slug)
def test_the_judge_finds_the_seeded_fault_and_nothing_else(fault: Fault) -> None:
    of = season(**fault.farm)
    assert broken(of, *doses(of, fault.lawful)) == set()
    assert broken(of, *doses(of, fault.unlawful)) == {fault.slug}


def test_every_stop_rule_has_its_fault() -> None:
    stops = {rule.slug for rule in RULES if rule.severity == "stop"}
    assert {fault.slug for fault in FAULTS} == stops | {"too-early"}


@pytest.mark.parametrize(("meat_days", "found"), [(10, set()), (None, {"off-label-withdrawal"})])
def test_a_direction_without_its_meat_days_lets_no_sheep_to_slaughter(meat_days: int | None, found: set[str]) -> None:
    of = season(**{**labelled(replace(GUARD, fleece_weeks=(20, 52))), "events": SHORN, "sales": (sale(may(60)),)},
                directions=(direction(meat_days=meat_days),))  # fmt: skip
    assert broken(of, given(of, 5, "Ewes/Mart", origin="wish")) == found


def test_a_direction_is_not_for_the_doses_of_the_planner() -> None:
    of = season(**labelled(replace(GUARD, fleece_weeks=(20, 52))), events=SHORN, directions=(direction(),))
    assert broken(of, given(of, 5)) == {"fleece-weeks"}


def test_a_wish_may_be_early() -> None:
    of = season()
    assert broken(of, given(of, 31, origin="wish")) == set()


def test_one_cohort_over_the_daily_head_may_be_done_alone() -> None:
    of = season(settings=working(most_head_per_day=45))
    assert broken(of, given(of, 5)) == set()
    assert broken(of, given(of, 5), given(of, 5, "Lambs/stay")) == {"daily-head"}


def test_what_was_given_that_day_takes_of_the_daily_head() -> None:
    of = season(made_for=may(5), settings=working(most_head_per_day=60), record=(row(may(5)),))
    assert broken(of, given(of, 5, "Lambs/stay")) == {"daily-head"}
    assert broken(of, given(of, 6, "Lambs/stay")) == set()


def test_done_is_done_on_closed_days_but_not_before_a_sale() -> None:
    of = season(made_for=may(6), settings=working(closed=closed(may(5))), sales=(sale(may(12)),),
                record=(row(may(5)),))  # fmt: skip
    assert {breach.rule for breach in stop_breaches(of, of.record)} == {"meat-withdrawal"}


@pytest.mark.parametrize(
    "fault", [fault for fault in FAULTS if fault.slug in DONE_IS_DONE], ids=lambda fault: fault.slug
)
def test_what_was_done_is_not_judged_by_the_days_on_which_it_could_not_be_planned(fault: Fault) -> None:
    of = season(made_for=may(60), **fault.farm)
    given_so = [replace(dose, origin="record") for dose in doses(of, fault.unlawful)]
    assert [breach.rule for breach in stop_breaches(of, Doses(given_so))] == []
    assert [breach.rule for breach in stop_breaches(of, Doses(doses(of, fault.unlawful)))] == [fault.slug]


@pytest.mark.parametrize(("day", "where"), [(-30, None), (25, Where("sales.csv", 2))])
def test_a_dose_to_sheep_that_are_gone_names_their_sale_and_one_before_they_are_born_does_not(
    day: int, where: Where | None
) -> None:
    of = season(sales=(sale(may(20), group="Lambs", head=10),))
    away = [one for one in stop_breaches(of, Doses([given(of, day, "Lambs/Mart")])) if one.rule == "away"]
    assert [one.where for one in away] == [where]


def test_a_planned_dose_is_judged_beside_what_was_given() -> None:
    of = season(made_for=may(6), record=(row(may(5)),))
    assert broken(of, given(of, 11)) == {"repeat-interval"}
    assert broken(of, given(of, 12)) == set()


def test_a_missed_dose_is_no_breach_of_its_own_but_holds_the_interval() -> None:
    of = season(made_for=may(8), settings=working(closed=closed(may(5))))
    missed = given(of, 5, origin="missed")
    assert list(stop_breaches(of, Doses([missed]))) == []
    assert broken(of, missed, given(of, 11)) == {"repeat-interval"}
