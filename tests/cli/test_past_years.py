"""season plan --years: the doses of the plan under each past year's weather, beside plans made on single years."""

import json
import re
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from scheduler.plan import make_plan, year_plans
from scheduler.plan.past_years import planned_doses
from scheduler.season import Doses, Season, all_runs
from tests.cli.folder import OUT_OF_COVER, TODAY, season
from tests.cli.test_risk import WARMER, farm, weather
from tests.risk.climates import TARGETS, year_of, years_of
from tests.risk.climates import farm as values

ONE_DOSE = {"labels/pour.toml": OUT_OF_COVER["labels/pour.toml"]}


def plans(folder: Path) -> list[dict[str, Any]]:
    """The plans of years.json, which keeps to its schema."""
    season("plan", folder, "--today", TODAY, "--years")
    value = json.loads((folder / "plan" / "years.json").read_text("utf-8"))
    jsonschema.validate(value, json.loads(season("schema", "years").stdout))
    assert (value["schema"], value["made_for"], value["currency"]) == ("season-years/1", TODAY, "GBP")
    return list(value["plans"])


def exposed(plan: dict[str, Any]) -> dict[int, int]:
    """Exposed sheep-days of each year, with the doses of one plan."""
    return {year["year"]: year["exposed_sheep_days"] for year in plan["years"]}


def test_years_alike_leave_what_the_plan_leaves(tmp_path: Path) -> None:
    folder = farm(tmp_path, {**ONE_DOSE, **weather(years_of([0] * 5))})
    score = json.loads(season("plan", folder, "--today", TODAY, "--json").stdout)["score"]
    found = plans(folder)
    assert score["exposed_sheep_days"] > 0
    assert [plan["made_on"] for plan in found] == ["plan", "early", "middle", "late"]
    assert found[0]["money_minor"] == score["money_minor"]
    for plan in found:
        assert exposed(plan) == dict.fromkeys(range(2010, 2015), score["exposed_sheep_days"])


def test_warmer_years_leave_more_exposed(tmp_path: Path) -> None:
    found = exposed(plans(farm(tmp_path, {**ONE_DOSE, **weather(years_of(WARMER))}))[0])
    assert list(found) == list(range(2010, 2015))
    assert list(found.values()) == sorted(found.values())
    assert found[2010] < found[2014]


def test_early_middle_and_late_year_stand_side_by_side_each_least_in_its_own(tmp_path: Path) -> None:
    """Of five years, each warmer than the last, the warmest, the middle and the fourth of the warmest are taken."""
    found = plans(farm(tmp_path, {**ONE_DOSE, **weather(years_of(WARMER))}))
    assert [plan["year"] for plan in found] == [None, 2014, 2012, 2011]
    opens = [plan["opens"][0]["date"] for plan in found[1:]]
    assert opens == sorted(opens)
    assert opens[0] < opens[2]
    for plan in found[1:]:
        assert plan["status"] == "proved"
        assert exposed(plan)[plan["year"]] == min(exposed(other)[plan["year"]] for other in found)


def test_text_and_page_show_every_figure_of_years_json(tmp_path: Path) -> None:
    folder = farm(tmp_path, {**ONE_DOSE, **weather(years_of(WARMER))})
    found = plans(folder)
    text = season("plan", folder, "--today", TODAY, "--years").output
    page = (folder / "plan" / "summary.html").read_text("utf-8")
    for year in range(2010, 2015):
        figures = [f"{exposed(plan)[year]:,}" for plan in found]
        assert re.search(rf"^ +{year} +{' +'.join(figures)}$", text, flags=re.MULTILINE)
        assert f">{year}</th>" + "".join(f"<td>{figure}</td>" for figure in figures) in page


def test_without_years_of_weather_it_says_so_and_writes_none(tmp_path: Path) -> None:
    folder = farm(tmp_path, {})
    text = season("plan", folder, "--today", TODAY, "--years").output.replace("\n  ", " ")
    assert "No level of this plan follows years of weather" in text
    assert not (folder / "plan" / "years.json").exists()


def test_sums_are_those_of_the_states_of_every_day() -> None:
    """The season under each year's weather, day by day, as the plan itself is reckoned."""
    whole = values(years_of(WARMER))
    made = make_plan(whole, date(2027, 5, 20), None, lambda: False)
    (own, *_) = year_plans(whole, made, None, lambda: False)
    for past in own.years:
        under = Season(whole, date(2027, 5, 20), past.year)
        runs = all_runs(under, Doses(planned_doses(under, made.tasks)))
        days = sum(run.cohort.head * sum(day >= under.first_day for day in run.span.days())
                   for run in runs if run.state in ("exposed", "fading"))  # fmt: skip
        assert past.exposed_sheep_days == days > 0


EARLY = (*years_of((-1.5, 1.0, 0.0, -0.5, 0.5, 1.5, -1.0), 2020), *year_of(date(2027, 1, 1), 1.5, 125))


def test_this_years_weather_moves_tasks_and_says_which(tmp_path: Path) -> None:
    folder = farm(tmp_path, {**ONE_DOSE, **weather(EARLY)})
    today = "2027-05-05"
    said = " ".join(season("risk", folder, "--today", today).output.split())
    assert "What this year's weather so far moves in the plan:" in said
    days = int(re.findall(r"this year is (\d+) days early", said)[0])
    assert re.search(rf"season opens, blowfly strike: \d+ \w+, {days} days earlier than in a usual year\.", said)
    season("plan", folder, "--today", today)
    page = (folder / "plan" / "summary.html").read_text("utf-8")
    moved = page.partition("moves in the plan</h3>")[2].partition("</ul>")[0]
    told = re.findall(r"<li>(.*)</li>", moved)
    assert told
    assert all(line in said for line in told)


@pytest.mark.parametrize("days", [years_of(WARMER), EARLY[:-125]])
def test_without_weather_of_this_year_nothing_is_moved(tmp_path: Path, days: Any) -> None:
    folder = farm(tmp_path, {**ONE_DOSE, **weather(days)})
    assert "moves in the plan" not in season("risk", folder, "--today", "2027-05-05").output


def test_the_page_draws_every_target_and_tells_its_dates(tmp_path: Path) -> None:
    named = ", ".join(f'"{target}"' for target in (*TARGETS, "lice"))
    folder = farm(tmp_path, {**ONE_DOSE, **weather(EARLY)}, named)
    (strike, *_) = json.loads(season("risk", folder, "--today", TODAY, "--json").stdout)["targets"]
    season("plan", folder, "--today", TODAY)
    page = (folder / "plan" / "summary.html").read_text("utf-8")
    drawn = page.partition('<section id="risk">')[2].partition("</section>")[0]
    assert len(re.findall('<svg class="lane"', drawn)) == 4
    assert len(re.findall('class="risk" d="M0 [0-9]+', drawn)) == 3 + 1
    assert len(re.findall('class="k-own" d="M0 [0-9]+', drawn)) >= 3
    first = date.fromisoformat(strike["starts"]["early"])
    assert f"Begins by {first.day} {first:%b %Y} in 1 year of 5" in drawn
    assert len(drawn) < 20_000
