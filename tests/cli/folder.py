"""A small invented farm on disk, and the command run on it in this process."""

from collections.abc import Mapping
from pathlib import Path

from click.testing import CliRunner, Result

from scheduler.cli import main

TODAY = "2027-05-01"
WRITTEN = ["calendar.ics", "changes.json", "plan.json", "summary.html", "tasks.csv"]

FILES = {
    "farm.toml": """\
[farm]
name = "Test farm (invented)"
country = "GB"
timezone = "Europe/London"
latitude = 54.3
longitude = -2.1
[season]
start = 2027-05-01
end = 2027-07-31
[money]
currency = "GBP"
[plan]
targets = ["blowfly-strike"]
""",
    "groups.csv": "group,kind,head,heaviest_kg,lightest_kg,weighed_on\nEwes,ewe,100,75,55,2027-04-20\n",
    "risk.csv": "target,from,to,level\nblowfly-strike,2027-06-01,2027-06-30,0.6\n",
    "labels/pour.toml": """\
name = "Demo pour-on (invented)"
active = "cypermethrin"
chemical_group = "synthetic pyrethroid"
form = "pour-on"
checked = 2027-02-14
countries = ["GB"]
[withdrawal]
meat = 8
[[pack]]
ml = 2500
price = 92.00
[[use]]
id = "guard"
targets = ["blowfly-strike"]
purpose = "prevent"
protects_days = [42, 56]
[[use.dose]]
ml = 20
""",
}
OUT_OF_COVER = {
    "risk.csv": "target,from,to,level\nblowfly-strike,2027-05-01,2027-07-31,0.6\n",
    "labels/pour.toml": FILES["labels/pour.toml"].replace("[[pack]]", "[limits]\nmost_per_season = 1\n[[pack]]"),
}
"""Risk for three months, and one dose that lasts six weeks."""

FORBIDDEN_WISH = {
    "sales.csv": "sale,group,head,date,purpose\nMart,Ewes,100,2027-07-31,slaughter\n",
    "wishes.csv": "date,group,label,use\n2027-07-29,Ewes,pour,guard\n",
}


def write(folder: Path, changes: Mapping[str, str] | None = None) -> Path:
    """The farm written into a folder, with some files other than they are."""
    for name, text in {**FILES, **(changes or {})}.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def season(*words: str | Path) -> Result:
    """What the command did."""
    return CliRunner().invoke(main, [str(word) for word in words], prog_name="season")


def inside(folder: Path) -> list[str]:
    """Every file under a folder, by its path in it."""
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file())
