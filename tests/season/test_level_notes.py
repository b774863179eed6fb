"""What is said of levels that weather gives, and which levels those are. The weather is invented."""

from datetime import date
from decimal import Decimal

import pytest
from msgspec.structs import replace

from scheduler.farm import RiskRow
from scheduler.risk import ThisYear
from scheduler.season import Season, this_year_text
from scheduler.words import Target, Where
from tests.risk.climates import farm, normals, year_of, years_of
from tests.season.hill import finding

MADE_FOR = date(2027, 4, 21)
THROUGH = date(2027, 4, 20)
OWN = RiskRow(target="blowfly-strike", first=date(2027, 5, 1), last=date(2027, 9, 1), level=Decimal("0.6"),
              where=Where("risk.csv", 2))  # fmt: skip


@pytest.mark.parametrize(
    ("days", "said"),
    [
        (2, "2 days early by its warmth"),
        (1, "1 day early by its warmth"),
        (0, "neither early nor late by its warmth"),
        (-1, "1 day late by its warmth"),
    ],
)
def test_this_year_is_so_many_days_early_or_late(days: int, said: str) -> None:
    assert this_year_text(ThisYear(days, THROUGH, 4.2, 6.1, 0)).startswith(f"up to 20 Apr 2027 this year is {said}.")


@pytest.mark.parametrize(("moved", "end"), [(2, "levels are moved by as much."), (0, "levels are not moved.")])
def test_how_far_this_year_can_be_relied_on(moved: int, end: str) -> None:
    assert this_year_text(ThisYear(2, THROUGH, 4.2, 6.1, moved)).endswith(f": {end}")


def test_too_few_years_cannot_say_how_far_this_year_foretells_the_season() -> None:
    assert "cannot be said from so few years" in this_year_text(ThisYear(2, THROUGH, None, None, 0))


@pytest.mark.parametrize(("years", "said"), [(1, "Only 1 whole year of"), (2, "Only 2 whole years of"), (5, "")])
def test_few_years_of_weather_are_said_to_be_few(years: int, said: str) -> None:
    notes = Season(farm(years_of([0.0] * years)), MADE_FOR).level_notes
    assert any(note.startswith("Levels of blowfly-strike, ticks, head-fly are reckoned from weather") for note in notes)
    assert any(note.startswith("Only") for note in notes) == bool(said)
    assert any(note.startswith(said) for note in notes)


def test_of_each_target_it_is_said_how_this_year_runs() -> None:
    weather = (*years_of([0.0] * 5, 2022), *year_of(date(2027, 1, 1), 1.5, 110))
    notes = Season(farm(weather), MADE_FOR).level_notes
    assert [note.partition(":")[0] for note in notes[1:]] == ["blowfly-strike", "ticks", "head-fly"]


def test_without_readings_of_this_year_nothing_is_said_of_it() -> None:
    assert len(Season(farm(years_of([0.0] * 5)), MADE_FOR).level_notes) == 1


def test_gaps_that_were_filled_are_said() -> None:
    days = tuple(day for day in years_of([0.0] * 5) if day.day != date(2012, 5, 10))
    assert any("filled from the days around it" in note for note in Season(farm(days), MADE_FOR).level_notes)


def test_monthly_means_are_said_to_be_one_usual_year() -> None:
    (note,) = Season(farm(normals=normals()), MADE_FOR).level_notes
    assert "one usual year" in note


def test_where_no_level_comes_from_weather_nothing_is_said() -> None:
    assert Season(farm(), MADE_FOR).level_notes == ()


def test_each_target_has_its_levels_from_one_place() -> None:
    """The keeper's rows first, then weather, then the built-in table; a target that was only found has none."""
    targets: tuple[Target, ...] = ("blowfly-strike", "ticks", "lice")
    of = farm(years_of([0.0]), targets=targets)
    found = (finding(2, MADE_FOR, group="Ewes", what="scab"),)
    season = Season(replace(of, risk=(OWN,), findings=found), MADE_FOR)
    sources = {target: season.levels.source(target) for target in season.targets}
    assert sources == {"blowfly-strike": "risk.csv", "ticks": "weather", "lice": "default", "scab": "findings"}
    assert season.levels.on("scab", "Ewes", MADE_FOR) == 0
    assert season.levels.outlook("scab") is None
    assert season.level_notes[0].startswith("Levels of ticks are reckoned from weather of 2010, ")


def test_a_target_that_was_only_found_follows_no_weather() -> None:
    of = replace(farm(years_of([0.0]), targets=("ticks",)), findings=(finding(2, MADE_FOR, group="Ewes"),))
    levels = Season(of, MADE_FOR).levels
    assert (levels.source("blowfly-strike"), levels.outlook("blowfly-strike")) == ("findings", None)
    assert levels.on("blowfly-strike", "Ewes", date(2027, 7, 1)) == 0


def test_a_sentence_on_a_level_adds_where_it_comes_from() -> None:
    said = [Season(of, MADE_FOR).levels.said_of("ticks", ["Ewes"], MADE_FOR)
            for of in (farm(years_of([0.0] * 2)), farm(normals=normals()), farm())]  # fmt: skip
    assert said == [", by weather of 2010 to 2011", ", by monthly means", ""]


def test_the_levels_of_a_year_of_the_past_are_those_of_that_year() -> None:
    """Of two years the second is warmer by 3 °C: ticks are out on more of its days."""
    of = farm(years_of([0.0, 3.0]))
    days = [date(2027, 3, day) for day in range(1, 32)]
    cold, warm = (sum(Season(of, MADE_FOR, year).levels.on("ticks", "Ewes", day) for day in days)
                  for year in (2010, 2011))  # fmt: skip
    assert cold < warm


@pytest.mark.parametrize("target", ["ticks", "blowfly-strike", "lice"])
@pytest.mark.parametrize("years", [(), (2010, 2011)])
def test_each_year_reaches_the_act_level_on_the_days_of_its_own_levels(target: Target, years: tuple[int, ...]) -> None:
    """Strike by the keeper's rows and lice by the built-in table, which no year moves; ticks by weather or normals."""
    weather, means = (years_of([0.0, 3.0]), ()) if years else ((), normals())
    of = replace(farm(weather, means, targets=("ticks", "blowfly-strike", "lice")), risk=(OWN,))
    days, act = [date(2027, month, day) for month in (3, 4, 5) for day in range(1, 31)], Decimal("0.3")
    differ = years if target == "ticks" and years else (None,)
    expected = [[Season(of, MADE_FOR, year).levels.on(target, "Ewes", day) >= act for day in days] for year in differ]
    assert Season(of, MADE_FOR).levels.reached_in_years(target, "Ewes", days, act).tolist() == expected
