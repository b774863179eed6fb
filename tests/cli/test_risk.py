"""season risk: where levels come from, when seasons begin, what other programs read, and weather brought in."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from scheduler.farm import WeatherDay, weather_csv
from tests.cli.folder import TODAY, season, write
from tests.risk.climates import normals, year_of, years_of

WARMER = (-1.0, -0.5, 0.0, 0.5, 1.0)
FULL_SEASON = ("start = 2027-05-01\nend = 2027-07-31", "start = 2027-03-01\nend = 2027-11-30")
STATION = """\
Weather of an invented station; temperatures in degrees Celsius
# quality: a good, b doubtful
Day;TN;TX;RR;Quality
13.01.2020 09:00;-1,5;4,0;1,2;a
14.01.2020 09:00;-2,5;;0,0;b
15.01.2020 09:00;-0,5;5,25;-9999;a
"""
NAMED = "date=Day,tmin=TN,tmax=TX"
RISK = "target,from,to,level\nblowfly-strike,2027-06-01,2027-06-30,0.6\n"


def weather(days: tuple[WeatherDay, ...]) -> dict[str, str]:
    """weather.csv with these days."""
    return {"weather.csv": weather_csv(days, "iso").decode()}


def farm(folder: Path, files: Mapping[str, str], targets: str = '"blowfly-strike"') -> Path:
    """A farm from March to November without rows of risk.csv, with these files and targets."""
    write(folder, {**files, "risk.csv": "target,from,to,level\n", **files})
    toml = folder / "farm.toml"
    text = toml.read_text("utf-8").replace(*FULL_SEASON).replace('"blowfly-strike"', targets)
    toml.write_text(text, encoding="utf-8")
    return folder


def targets_of(folder: Path, *words: str) -> list[dict[str, Any]]:
    """What `season risk --json` says of each target."""
    result = season("risk", folder, "--today", TODAY, "--json", *words)
    assert result.exit_code == 0, result.output
    value = json.loads(result.stdout)
    jsonschema.validate(value, json.loads(season("schema", "risk").stdout))
    assert (value["schema"], value["made_for"]) == ("season-risk/1", TODAY)
    return list(value["targets"])


def test_rows_of_risk_csv_are_told_as_they_stand(tmp_path: Path) -> None:
    (target,) = targets_of(write(tmp_path, weather(years_of([0]))))
    assert target == {
        "target": "blowfly-strike",
        "source": "risk.csv",
        "years": None,
        "starts": dict.fromkeys(("early", "middle", "late"), "2027-06-01"),
        "ends": dict.fromkeys(("early", "middle", "late"), "2027-06-30"),
        "this_year": None,
        "runs": [
            {"groups": ["Ewes"], "from": "2027-05-01", "to": "2027-05-31", "level": 0},
            {"groups": ["Ewes"], "from": "2027-06-01", "to": "2027-06-30", "level": 0.6},
            {"groups": ["Ewes"], "from": "2027-07-01", "to": "2027-07-31", "level": 0},
        ],
    }


def test_levels_of_weather_fill_the_season_and_their_dates_stand_in_order(tmp_path: Path) -> None:
    (target,) = targets_of(farm(tmp_path, weather(years_of(WARMER))))
    assert (target["source"], target["years"], target["this_year"]) == ("weather", [2010, 2014], None)
    assert target["starts"]["early"] < target["starts"]["middle"] < target["starts"]["late"]
    runs = target["runs"]
    assert (runs[0]["from"], runs[-1]["to"]) == ("2027-03-01", "2027-11-30")
    at_risk = [run for run in runs if run["level"] >= 0.3]
    assert at_risk[0]["from"] == target["starts"]["early"]
    assert at_risk[-1]["to"] >= target["ends"]["late"]


def test_this_year_is_told_up_to_its_last_reading_and_no_further_than_today(tmp_path: Path) -> None:
    days = (*years_of(WARMER, 2022), *year_of(years_of([0], 2027)[0].day, 2, days=150))
    (target,) = targets_of(farm(tmp_path, weather(days)))
    assert target["this_year"]["through"] == TODAY
    assert target["this_year"]["days_early"] > 0


@pytest.mark.parametrize(("files", "source"), [
    ({}, "default"),
    ({"normals.csv": "month,tmin,tmax\n" + "".join(f"{n.month},{n.tmin},{n.tmax}\n" for n in normals())}, "normals"),
    (weather(year_of(years_of([0])[0].day, days=200)), "default"),
])  # fmt: skip
def test_where_levels_come_from(tmp_path: Path, files: dict[str, str], source: str) -> None:
    fly, lice = targets_of(farm(tmp_path, files, '"blowfly-strike", "lice"'))
    assert (fly["source"], lice["source"]) == (source, "default")
    assert fly["starts"]["early"] == fly["starts"]["late"] is not None


def test_the_plan_uses_the_levels_and_says_whence(tmp_path: Path) -> None:
    folder = farm(tmp_path, weather(years_of(WARMER)))
    (target,) = targets_of(folder)
    result = season("plan", folder, "--today", TODAY, "--json")
    plan = json.loads(result.stdout)
    opens = [task["date"] for task in plan["tasks"] if task["kind"] == "season-opens"]
    assert opens == [target["starts"]["early"]]
    levels = [(run["from"], run["level"]) for run in plan["days"] if run["level"]]
    assert levels == [(run["from"], run["level"]) for run in target["runs"] if run["level"]]
    assert "default-risk" not in [conflict["rule"] for conflict in plan["conflicts"]]
    text = season("plan", folder, "--today", TODAY).output.replace("\n  ", " ")
    assert "weather of 2010 to 2014, as reached in 1 year of 5" in text


def test_text_has_a_table_a_target_and_the_cautions(tmp_path: Path) -> None:
    text = season("risk", farm(tmp_path, weather(years_of(WARMER[:2]))), "--today", TODAY).output
    assert "Blowfly strike: levels from weather of 2010 to 2011; act level 0.3" in text
    assert "begins by" in text
    assert "Only 2 whole years of weather" in text
    assert "vet" in text


def test_a_stations_file_becomes_weather_csv(tmp_path: Path) -> None:
    folder, station = farm(tmp_path / "farm", {}), tmp_path / "station.csv"
    station.write_text(STATION, encoding="utf-8")
    result = season("risk", folder, "--today", TODAY, "--from", station, "--columns", f"{NAMED},rain=RR")
    assert result.exit_code == 0, result.output
    assert "Wrote 2 days of weather, 13 Jan 2020 to 15 Jan 2020" in result.output
    assert "1 day without both readings left out" in result.output.replace("\n  ", " ")
    assert (
        folder / "weather.csv"
    ).read_text() == "date,tmin,tmax,rain\n2020-01-13,-1.5,4.0,1.2\n2020-01-15,-0.5,5.25,\n"


def test_dates_are_written_as_the_farms_tables_write_them(tmp_path: Path) -> None:
    folder, station = write(tmp_path / "farm"), tmp_path / "station.csv"
    toml = (folder / "farm.toml").read_text().replace("latitude", 'dates = "day-month-year"\nlatitude', 1)
    (folder / "farm.toml").write_text(toml.replace("2027-06-01", "01/06/2027"), encoding="utf-8")
    (folder / "risk.csv").write_text("target,from,to,level\n", encoding="utf-8")
    (folder / "groups.csv").write_text("group,kind,head,heaviest_kg\nEwes,ewe,100,75\n", encoding="utf-8")
    station.write_text("date,tmin,tmax\n20200131,1,2\n", encoding="utf-8")
    assert season("risk", folder, "--today", TODAY, "--from", station).exit_code == 0
    assert (folder / "weather.csv").read_text() == "date,tmin,tmax\n31/01/2020,1,2\n"


def test_weather_that_is_there_is_written_over_only_when_told_so(tmp_path: Path) -> None:
    folder, station = farm(tmp_path / "farm", weather(years_of([0]))), tmp_path / "station.csv"
    station.write_text(STATION, encoding="utf-8")
    words: list[str | Path] = ["risk", folder, "--today", TODAY, "--from", station, "--columns", NAMED]
    before = (folder / "weather.csv").read_bytes()
    refused = season(*words)
    assert (refused.exit_code, (folder / "weather.csv").read_bytes()) == (2, before)
    assert "--yes writes over it" in refused.output
    assert season(*words, "--yes").exit_code == 0
    assert (folder / "weather.csv").read_bytes() != before


@pytest.mark.parametrize(("text", "said"), [
    (STATION.replace("4,0", "4O"), 'station.csv, row 4, tmax: found "4O"; expected degrees Celsius'),
    (STATION.replace("-0,5", "6"), "station.csv, row 6, tmax: found 5.25; tmin is 6"),
    (STATION.replace("15.01", "13.01"), "station.csv, row 6, date: found 2020-01-13 again; it stands in row 4 already"),
    (STATION.replace("TX", "Max"), 'station.csv: found no header with "Day", "TN", "TX"; expected the column "TX"'),
    (STATION.split("13.01")[0], "station.csv, row 3: found no day with both readings"),
])  # fmt: skip
def test_faults_name_the_rows_of_the_stations_file_and_nothing_is_written(tmp_path: Path, text: str, said: str) -> None:
    folder, station = farm(tmp_path / "farm", {}), tmp_path / "station.csv"
    station.write_text(text, encoding="utf-8")
    result = season("risk", folder, "--today", TODAY, "--from", station, "--columns", NAMED)
    assert result.exit_code == 2
    assert said in result.output
    assert not (folder / "weather.csv").exists()


@pytest.mark.parametrize("columns", ["day=Day", "date", "date=,tmin=TN", "date=Day,date=Day"])
def test_columns_are_named_in_one_way(tmp_path: Path, columns: str) -> None:
    result = season("risk", farm(tmp_path, {}), "--from", "none.csv", "--columns", columns)
    assert result.exit_code == 2
    assert "date=DATE,tmin=TN,tmax=TX" in result.output


def test_a_station_file_that_is_not_there_is_a_fault(tmp_path: Path) -> None:
    result = season("risk", farm(tmp_path, {}), "--today", TODAY, "--from", tmp_path / "none.csv")
    assert result.exit_code == 2
    assert "found no such file" in result.output


def test_a_picture_is_drawn_of_any_source_the_same_each_time(tmp_path: Path) -> None:
    days = (*years_of(WARMER, 2022), *year_of(years_of([0], 2027)[0].day, 2, days=100))
    for name, files in (("weather", weather(days)), ("default", {}), ("rows", {"risk.csv": RISK})):
        folder = farm(tmp_path / name, files, '"blowfly-strike", "lice"')
        pictures = [tmp_path / f"{name}{n}.png" for n in (1, 2)]
        for picture in pictures:
            assert season("risk", folder, "--today", TODAY, "--png", picture).exit_code == 0
        first, second = (picture.read_bytes() for picture in pictures)
        assert first.startswith(b"\x89PNG")
        assert first == second


def test_a_picture_that_cannot_be_written_is_said_with_exit_code_3(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("", encoding="utf-8")
    result = season("risk", farm(tmp_path / "farm", {}), "--today", TODAY, "--png", tmp_path / "taken" / "risk.png")
    assert result.exit_code == 3
    assert "Nothing was written" in result.output


@pytest.mark.parametrize("files", [{}, weather(years_of(WARMER))])
def test_groups_in_the_wool_stand_apart_in_risk_plan_and_reasons(tmp_path: Path, files: dict[str, str]) -> None:
    groups = "group,kind,head,heaviest_kg,wool\nEwes,ewe,100,75,wooled\nHair ewes,ewe,20,70,shedding\n"
    shearing = "date,what,groups\n2027-07-10,shearing,Ewes;Hair ewes\n"
    folder = farm(tmp_path, {**files, "groups.csv": groups, "events.csv": shearing})
    (target,) = targets_of(folder)
    runs = {name: [run for run in target["runs"] if run["groups"] == [name]] for name in ("Ewes", "Hair ewes")}
    plan = json.loads(season("plan", folder, "--today", TODAY, "--json").stdout)
    for name, own in runs.items():
        at_risk = [(run["from"], run["level"]) for run in own if run["level"] >= 0.3]
        assert at_risk == [(run["from"], run["level"]) for run in plan["days"]
                           if run["cohort"] == f"{name}/stay" and run["level"] >= 0.3]  # fmt: skip
    opens = next(task for task in plan["tasks"] if task["kind"] == "season-opens")
    assert opens["date"] == target["starts"]["early"] == min(run["from"] for run in runs["Ewes"] if run["level"] >= 0.3)
    assert "; Ewes: raised, in full wool until shorn on 10 Jul 2027" in opens["because"][0]["text"]
    text = " ".join(season("risk", folder, "--today", TODAY).output.split())
    assert "Ewes: 1.2 times the level of the place, 1 Mar to 9 Jul: in full wool until shorn on 10 Jul 2027." in text
    assert "Hair ewes: 1.2" not in text
    page = (folder / "plan" / "summary.html").read_text("utf-8")
    assert "Ewes: 1.2 times the level of the place, 1 Mar to 9 Jul: in full wool" in page
