"""A small lawful farm as texts, to be changed by a test. Sheep, sales and medicines in it are invented."""

from collections.abc import Mapping
from datetime import date

from scheduler.farm import Farm, Texts, read_farm
from scheduler.words import Faults

TODAY = date(2027, 2, 20)

LABEL = """\
name = "Demo pour-on (invented)"
active = "cypermethrin"
chemical_group = "synthetic pyrethroid"
form = "pour-on"

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
upto_kg = 25
ml = 20

[[use.dose]]
above_kg = 25
ml = 40

[[use.repeat]]
upto_kg = 10
after_days = 21
ml = 10
"""

LAWFUL: dict[str, str] = {
    "farm.toml": """\
[farm]
name = "Test farm (invented)"
country = "GB"
timezone = "Europe/London"
latitude = 54.3
longitude = -2.1

[season]
start = 2027-03-01
end = 2027-11-30

[money]
currency = "GBP"
""",
    "groups.csv": """\
group,kind,head,mob,heaviest_kg,lightest_kg,weighed_on,born_first,born_last,growth_kg_per_day,leaves,arrives
Ewes,ewe,100,Hill,75,55,2027-02-10,,,,,
Top lamb,lamb,90,Hill,,,,2027-04-10,2027-04-30,0.25,,
Rams,ram,4,,95,80,2027-02-10,,,,2027-10-31,2027-03-20
""",
    "mobs.csv": "mob,gather_minutes,people\nHill,90,2\n",
    "events.csv": """\
date,end,what,groups
2027-04-10,2027-04-30,lambing,Ewes
2027-06-19,,shearing,Ewes;Rams
""",
    "sales.csv": """\
sale,group,head,date,purpose
Draft,Top lamb,60,2027-08-20,slaughter
Mart,Top lamb,20,2027-09-20,store
""",
    "risk.csv": "target,from,to,level\nblowfly-strike,2027-06-01,2027-09-10,0.6\n",
    "weather.csv": "date,tmin,tmax\n2026-05-01,4.5,13\n2026-05-02,5,14.5\n",
    "normals.csv": "month,tmin,tmax\n" + "".join(f"{month},2,12\n" for month in range(1, 13)),
    "findings.csv": "date,group,what,head\n2027-02-15,Ewes,ticks,3\n",
    "weights.csv": "date,group,heaviest_kg,mean_kg,lightest_kg\n2027-02-12,Ewes,76,66,56\n",
    "record.csv": "date,group,label,use,head,repeat_of,cohort\n2026-08-01,Rams,pour,guard,4,,\n",
    "directions.csv": "label,use,groups,sets_aside,signed,until,vet\n",
    "stock.csv": "label,ml\npour,2500\n",
    "wishes.csv": "date,group,label,use,cohort,repeat_of\n2027-06-20,Rams,pour,guard,,\n",
    "labels/pour.toml": LABEL,
}


def texts(changes: Mapping[str, str] | None = None) -> Texts:
    """The lawful farm as bytes, with some of its files written anew."""
    return {name: text.encode() for name, text in {**LAWFUL, **(changes or {})}.items()}


def farm(changes: Mapping[str, str] | None = None, today: date = TODAY) -> Farm:
    """The farm read, which must be lawful."""
    read = read_farm(texts(changes), today)
    assert isinstance(read, Farm), said(read)
    return read


def faults(changes: Mapping[str, str], today: date = TODAY) -> list[str]:
    """What is said of the changed farm; nothing where it is lawful."""
    return said(read_farm(texts(changes), today))


def said(read: Farm | Faults) -> list[str]:
    """Every fault as the keeper reads it."""
    return [str(fault) for fault in read.items] if isinstance(read, Faults) else []
