"""What dirt, fleece, age and rain make of a group's level: raised where in doubt, lowered only where caution allows."""

from datetime import date
from decimal import Decimal
from typing import Any

import numpy as np
import pytest
from msgspec.structs import replace

from scheduler.farm import Event, Farm, Finding, Group
from scheduler.risk import Modifier, Sheep
from scheduler.season import Season
from scheduler.words import TARGETS, EventKind, Where, days_of, plus
from tests.plan.flock import risk
from tests.risk.climates import farm, risk_of, years_of

JUNE, SHEARING = date(2027, 6, 10), date(2027, 7, 10)
FIRST, LAST = date(2027, 3, 1), date(2027, 11, 30)


def event(what: EventKind, day: date) -> Event:
    """An event of the ewes."""
    return Event(what=what, first=day, last=day, groups=("Ewes",), where=Where("events.csv", 2))


def dags(day: date, **changed: Any) -> Finding:
    """Dags found in the ewes."""
    return replace(Finding(day=day, group="Ewes", what="dags", where=Where("findings.csv", 2)), **changed)


def flock(*events: Event, found: tuple[Finding, ...] = (), caution: str = "high", **changed: Any) -> Farm:
    """The farm with one group changed so, these events and findings."""
    whole = farm(caution=caution)
    return replace(whole, groups=(replace(whole.groups[0], **changed),), events=events, findings=found)


def why(of: Farm, day: date) -> str | None:
    """What holds for the ewes on a day."""
    found = Sheep(of).modifier("blowfly-strike", "Ewes", day)
    return None if found is None else found.why


def test_wool_counts_up_to_the_day_before_the_first_shearing() -> None:
    shorn = flock(event("shearing", SHEARING))
    assert why(shorn, plus(SHEARING, -1)) == "in full wool until shorn on 10 Jul 2027"
    assert why(shorn, SHEARING) is None
    assert why(flock(), plus(SHEARING, -1)) is None


def test_wool_is_full_again_half_a_year_after_the_shearing_before() -> None:
    twice = flock(event("shearing", plus(SHEARING, -365)), event("shearing", SHEARING))
    assert why(twice, plus(SHEARING, -365 + 179)) is None
    assert why(twice, plus(SHEARING, -365 + 180)) == "in full wool until shorn on 10 Jul 2027"
    assert why(flock(event("shearing", plus(SHEARING, -90)), event("shearing", SHEARING)), plus(SHEARING, -1)) is None


@pytest.mark.parametrize("changed", [{"wool": "shedding"}, {"kind": "lamb", "born_first": date(2027, 5, 1)}])
def test_wool_says_nothing_of_lambs_and_of_sheep_that_shed(changed: dict[str, Any]) -> None:
    assert why(flock(event("shearing", SHEARING), **changed), JUNE) is None


@pytest.mark.parametrize(("caution", "said"), [("high", None), ("middle", "shorn on 10 Jul 2027"),
                                               ("low", "shorn on 10 Jul 2027")])  # fmt: skip
def test_newly_shorn_sheep_count_for_less_only_where_caution_is_not_high(caution: str, said: str | None) -> None:
    shorn = flock(event("shearing", SHEARING), caution=caution)
    assert why(shorn, plus(SHEARING, 41)) == said
    assert why(shorn, plus(SHEARING, 42)) is None


def test_lambs_count_for_more_from_twelve_weeks_on() -> None:
    lambs = flock(kind="lamb", born_first=date(2027, 4, 1))
    assert why(lambs, plus(date(2027, 4, 1), 83)) is None
    assert why(lambs, plus(date(2027, 4, 1), 84)) == "lambs over 12 weeks old"


def test_dags_count_until_clipped_cleared_or_four_weeks_old() -> None:
    found = flock(found=(dags(JUNE),))
    assert why(found, plus(JUNE, -1)) is None
    assert why(found, JUNE) == why(found, plus(JUNE, 28)) == "dags were found on 10 Jun 2027"
    assert why(found, plus(JUNE, 29)) is None
    clipped = flock(event("crutching", plus(JUNE, 3)), found=(dags(JUNE),))
    assert (why(clipped, plus(JUNE, 2)) is None, why(clipped, plus(JUNE, 3)) is None) == (False, True)
    assert why(flock(found=(dags(JUNE, cleared=plus(JUNE, 5)),)), plus(JUNE, 5)) is None


def test_of_several_the_one_that_raises_most_holds() -> None:
    shorn = flock(event("shearing", SHEARING), found=(dags(JUNE), dags(plus(SHEARING, 5))), caution="middle")
    assert why(shorn, JUNE) == "dags were found on 10 Jun 2027"
    assert why(shorn, plus(SHEARING, 4)) == "shorn on 10 Jul 2027"
    assert why(shorn, plus(SHEARING, 5)) == "dags were found on 15 Jul 2027"


@pytest.mark.parametrize(("level", "times", "expected"), [
    ("0", "1.5", "0"), ("0.25", "1.2", "0.3"), ("0.05", "1.2", "0.05"), ("0.3", "0.5", "0.15"), ("0.8", "1.5", "1"),
    ("0.15", "1.5", "0.25"),
])  # fmt: skip
def test_levels_stay_whole_steps_from_nothing_to_one(level: str, times: str, expected: str) -> None:
    assert Modifier(Decimal(times), "").of(Decimal(level)) == Decimal(expected)


def test_no_other_target_is_changed() -> None:
    shorn = Sheep(flock(event("shearing", SHEARING), found=(dags(JUNE),)))
    assert [target for target in TARGETS if shorn.modifier(target, "Ewes", JUNE)] == ["blowfly-strike"]


def test_rows_of_the_keeper_are_used_as_they_stand() -> None:
    rows = (risk(FIRST, LAST, "0.4"),)
    own = Season(replace(flock(event("shearing", SHEARING), found=(dags(JUNE),)), risk=rows), FIRST)
    assert {own.levels.on("blowfly-strike", "Ewes", day) for day in days_of(FIRST, LAST)} == {Decimal("0.4")}
    assert own.levels.modifier("blowfly-strike", "Ewes", JUNE) is None


@pytest.mark.parametrize("weather", [(), years_of([0] * 5)])
def test_under_high_caution_no_group_is_below_its_place(weather: tuple[Any, ...]) -> None:
    dirty = flock(event("shearing", SHEARING), found=(dags(JUNE), dags(date(2027, 8, 1))))
    levels = Season(replace(dirty, weather=weather), FIRST).levels
    pairs = [(levels.on("blowfly-strike", "Ewes", day), levels.of_place("blowfly-strike", day))
             for day in days_of(FIRST, LAST)]  # fmt: skip
    assert all(group >= place for group, place in pairs)
    assert any(group > place for group, place in pairs)


def test_the_order_of_rows_changes_nothing() -> None:
    events, found = (event("shearing", SHEARING), event("crutching", JUNE)), (dags(JUNE), dags(FIRST))
    other = Group(name="Hoggs", kind="hogg", head=5, mob="Hoggs", where=Where("groups.csv", 3))
    one, two = flock(*events, found=found), flock(*events[::-1], found=found[::-1])
    seasons = [Season(replace(of, groups=groups), FIRST).levels
               for of, groups in ((one, (*one.groups, other)), (two, (other, *two.groups)))]  # fmt: skip
    for day in days_of(FIRST, LAST):
        assert seasons[0].on("blowfly-strike", "Ewes", day) == seasons[1].on("blowfly-strike", "Ewes", day)


def test_a_wet_summer_raises_strike_and_nothing_else() -> None:
    dry = years_of([0] * 5)
    wet = tuple(replace(day, rain=Decimal(6)) for day in dry)
    for target in ("blowfly-strike", "ticks", "head-fly"):
        before, after = (risk_of(weather).of(target) for weather in (dry, wet))
        assert before is not None
        assert after is not None
        assert (after.planned >= before.planned).all()
        assert after.planned.max() <= 20
        assert bool(np.any(after.planned > before.planned)) == (target == "blowfly-strike")


def test_a_little_rain_or_none_told_changes_nothing() -> None:
    dry = years_of([0] * 5)
    showers = tuple(replace(day, rain=Decimal(2)) if day.day.day % 2 else day for day in dry)
    before, after = (risk_of(weather).of("blowfly-strike") for weather in (dry, showers))
    assert before is not None
    assert after is not None
    np.testing.assert_array_equal(before.by_year, after.by_year)


@pytest.mark.parametrize("caution", ["high", "middle", "low"])
def test_a_degree_more_opens_no_group_later(caution: str) -> None:
    dirty = flock(event("shearing", SHEARING), found=(dags(JUNE),), caution=caution)
    opens = []
    for warmer in (-1.0, 0.0, 1.0, 2.0):
        season = Season(replace(dirty, weather=years_of([warmer] * 5)), FIRST)
        opens.append(next(day for day in days_of(FIRST, LAST)
                          if season.levels.on("blowfly-strike", "Ewes", day) >= Decimal("0.3")))  # fmt: skip
    assert opens == sorted(opens, reverse=True)
    assert opens[0] > opens[-1]


def test_the_same_rain_and_flock_half_a_year_on_give_the_mirrored_levels() -> None:
    def shifted(day: date) -> date:
        return plus(date(2027, 7, 1), (day - date(2027, 1, 1)).days)

    def wet(month: int) -> tuple[Any, ...]:
        days = years_of([0] * 5, month=month)
        starts = {day.day.year for day in days}
        return tuple(
            replace(day, rain=Decimal(10))
            if any(100 <= (day.day - date(year, month, 1)).days <= 240 for year in starts) else day
            for day in days
        )  # fmt: skip

    north = flock(event("shearing", SHEARING), found=(dags(JUNE),))
    south = flock(event("shearing", shifted(SHEARING)), found=(dags(shifted(JUNE)),))
    settings = replace(south.settings, latitude=Decimal(-53), start=date(2027, 9, 1), end=date(2028, 5, 31))
    here = Season(replace(north, weather=wet(1)), FIRST).levels
    there = Season(replace(south, weather=wet(7), settings=settings), date(2027, 9, 1)).levels
    for day in days_of(FIRST, date(2027, 11, 15)):
        assert here.on("blowfly-strike", "Ewes", day) == there.on("blowfly-strike", "Ewes", shifted(day)), day
