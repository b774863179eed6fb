"""The sample farms as reports, planned in this process."""

from datetime import date
from functools import cache

from scheduler.farm import Farm, read_farm
from scheduler.plan import make_plan
from scheduler.report import SeasonReport, cautions_of, report_of
from tests.outside.plans import SAMPLES, TODAY


@cache
def sample(name: str) -> SeasonReport:
    """The report of a sample farm on the day that its README names; best found, in no time to prove it."""
    folder, today = SAMPLES / name, date.fromisoformat(TODAY[name])
    tables = sorted([*folder.glob("*.toml"), *folder.glob("*.csv"), *folder.glob("labels/*.toml")])
    farm = read_farm({str(path.relative_to(folder)): path.read_bytes() for path in tables}, today)
    assert isinstance(farm, Farm), farm
    made = make_plan(farm, today, None, lambda: True)
    return report_of(made, farm, cautions_of(made, farm))
