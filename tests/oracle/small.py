"""A small invented farm for hand-worked cases: ten ewes, one label, ticks at risk from 10 to 20 May 2027."""

from __future__ import annotations

import tempfile
from datetime import date
from pathlib import Path

from tests.oracle.farms import RandomFarm, write_farm
from tests.oracle.world import Dose, World, read_world

FARM = """[farm]
name = "Small farm (invented)"
country = "GB"
timezone = "Europe/London"
latitude = 54.3
longitude = -2.1
organic = {organic}
[season]
start = 2027-05-01
end = 2027-06-30
[money]
currency = "GBP"
labour_per_hour = {labour}
[work]
most_head_per_day = {most}
closed = {closed}
[plan]
caution = "{caution}"
targets = ["ticks"]
sale_margin_days = {margin}
"""
LABEL = """name = "Demo (invented)"
active = "{active}"
chemical_group = "{chemical}"
form = "pour-on"
[withdrawal]
{withdrawal}
[limits]
{limits}
[[pack]]
ml = 1000
price = 100.00
[[use]]
id = "{use}"
targets = ["ticks"]
purpose = "{purpose}"
{keys}
[[use.dose]]
{band}
{repeat}
"""
DEFAULTS = {
    "organic": "false",
    "labour": "0",
    "most": "0",
    "closed": "[]",
    "caution": "high",
    "margin": "0",
    "active": "cypermethrin",
    "chemical": "synthetic pyrethroid",
    "withdrawal": "meat = 8",
    "limits": "repeat_interval = 14",
    "use": "guard",
    "purpose": "prevent",
    "keys": "protects_days = [14, 20]",
    "band": "ml = 5",
    "repeat": "",
}
EWES = "group,kind,head,heaviest_kg,lightest_kg\nEwes,ewe,10,60,50\n"
LAMBS = "group,kind,head,mob,born_first,born_last,growth_kg_per_day\nLambs,lamb,10,Hill,2027-04-20,2027-04-24,0.2\n"
TICKS = "target,from,to,level,groups\nticks,2027-05-10,2027-05-20,0.5,\n"
TODAY = date(2027, 5, 1)


def label(**keys: str) -> str:
    """The text of a label file."""
    return LABEL.format(**(DEFAULTS | keys))


def small(tables: dict[str, str] | None = None, today: date = TODAY, **keys: str) -> World:
    """The small farm with some tables added or replaced, and some keys of its farm.toml or label changed."""
    files = {
        "farm.toml": FARM.format(**(DEFAULTS | keys)),
        "groups.csv": EWES,
        "risk.csv": TICKS,
        "labels/demo.toml": label(**keys),
    }
    with tempfile.TemporaryDirectory() as place:
        write_farm(RandomFarm(files | (tables or {}), today), Path(place))
        return read_world(Path(place), today)


def may(day: int) -> date:
    """A day of May 2027 (32 is 1 June)."""
    return date.fromordinal(date(2027, 5, 1).toordinal() + day - 1)


def dose(
    day: int, cohort: str = "Ewes/stay", first: int | None = None, name: str = "demo", origin: str = "own"
) -> Dose:
    """A dose of the demo label in May 2027."""
    return Dose(may(day), cohort, name, "guard", None if first is None else may(first), origin)
