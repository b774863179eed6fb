"""season plan --years: the doses of the plan under each past year's weather."""

import json
import re
from pathlib import Path

from tests.cli.folder import OUT_OF_COVER, TODAY, season
from tests.cli.test_risk import WARMER, farm, weather
from tests.risk.climates import years_of

ONE_DOSE = {"labels/pour.toml": OUT_OF_COVER["labels/pour.toml"]}


def exposed(folder: Path, *words: str) -> dict[int, int]:
    """Exposed sheep-days of each year, as told."""
    text = season("plan", folder, "--today", TODAY, "--years", *words).output
    assert "In past years" in text, text
    found = re.findall(r"^ +(20\d\d) +([\d,]+)$", text.partition("In past years")[2], flags=re.MULTILINE)
    return {int(year): int(days.replace(",", "")) for year, days in found}


def test_years_alike_leave_what_the_plan_leaves(tmp_path: Path) -> None:
    folder = farm(tmp_path, {**ONE_DOSE, **weather(years_of([0] * 5))})
    score = json.loads(season("plan", folder, "--today", TODAY, "--json").stdout)["score"]["exposed_sheep_days"]
    assert score > 0
    assert exposed(folder) == dict.fromkeys(range(2010, 2015), score)


def test_warmer_years_leave_more_exposed(tmp_path: Path) -> None:
    found = exposed(farm(tmp_path, {**ONE_DOSE, **weather(years_of(WARMER))}))
    assert list(found) == list(range(2010, 2015))
    assert list(found.values()) == sorted(found.values())
    assert found[2010] < found[2014]


def test_without_years_of_weather_it_says_so(tmp_path: Path) -> None:
    text = season("plan", farm(tmp_path, {}), "--today", TODAY, "--years").output.replace("\n  ", " ")
    assert "No level of this plan follows years of weather" in text
