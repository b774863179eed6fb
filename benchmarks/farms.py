"""Random farms of fixed seeds, as large as an adviser meets them: so many groups and labels over nine months."""

import random

FARM = """\
[farm]
name = "Invented farm {seed}"
country = "GB"
timezone = "Europe/London"
latitude = 54.3
longitude = -2.1
[season]
start = 2027-03-01
end = 2027-11-30
[money]
currency = "GBP"
labour_per_hour = {labour}
[work]
gather_minutes = {gather}
minutes_per_head = 0.5
closed = ["every Sunday"]
[plan]
targets = [{targets}]
"""

LABEL = """\
name = "Demo {name} (invented)"
active = "{active}"
chemical_group = "{group}"
form = "pour-on"
checked = 2027-01-15
countries = ["GB"]
[withdrawal]
meat = {meat}
milk = 5
[limits]
repeat_interval = {interval}
most_per_season = {most}
{clash}
[[pack]]
ml = 2500
price = {price}
"""

USE = """\
[[use]]
id = "{id}"
targets = [{targets}]
purpose = "prevent"
protects_days = [{least}, {longest}]
youngest_days = 7
ends_at = ["shearing"]
[[use.dose]]
upto_kg = 25
ml = {light}
[[use.dose]]
above_kg = 25
ml = {heavy}
"""

REPEAT = """\
[[use.repeat]]
upto_kg = 10
after_days = 21
ml = 10
"""

ACTIVES = (
    ("cypermethrin", "synthetic pyrethroid", 8, 42, 56),
    ("dicyclanil", "insect growth regulator", 40, 84, 112),
    ("alpha-cypermethrin", "synthetic pyrethroid", 28, 56, 70),
    ("cyromazine", "insect growth regulator", 28, 56, 70),
    ("deltamethrin", "synthetic pyrethroid", 35, 28, 42),
    ("diazinon", "organophosphate", 70, 21, 42),
    ("cypermethrin 2.5 %", "synthetic pyrethroid", 14, 35, 49),
    ("dicyclanil 1.25 %", "insect growth regulator", 7, 56, 56),
)


def random_farm(
    seed: int, groups: int = 10, labels: int = 3, targets: int = 2, mobs: int = 1, dealt: bool = False
) -> dict[str, bytes]:
    """The files of one farm, by name.

    mobs: how many mobs hold ewes and their lambs together. dealt: all groups are dealt among these mobs; else the first
    pairs have one each, and every other group comes in alone.
    """
    dice = random.Random(f"{seed} {groups} {labels} {targets} {mobs}")
    names = ("blowfly-strike", "ticks", "head-fly")[:targets]
    quoted = ", ".join(f'"{name}"' for name in names)
    sheep, events, sales = _sheep(dice, groups, mobs, dealt)
    texts = {
        "farm.toml": FARM.format(
            seed=seed, labour=dice.choice((12, 15, 18)), gather=dice.choice((45, 60, 90, 120)), targets=quoted
        ),
        "groups.csv": _table("group,kind,head,mob,heaviest_kg,lightest_kg,weighed_on,born_first,born_last,"
                             "growth_kg_per_day,grown_kg", sheep),
        "events.csv": _table("date,end,what,groups", events),
        "sales.csv": _table("sale,group,head,date,purpose", sales),
        "risk.csv": _table("target,from,to,level", _risk(dice, names)),
    }  # fmt: skip
    for number in range(labels):
        texts[f"labels/demo-{number}.toml"] = _label(dice, number, names)
    return {name: text.encode() for name, text in texts.items()}


def _table(header: str, rows: list[str]) -> str:
    return "\n".join((header, *rows)) + "\n"


def _sheep(dice: random.Random, groups: int, mobs: int, dealt: bool) -> tuple[list[str], list[str], list[str]]:
    sheep: list[str] = []
    events: list[str] = []
    sales: list[str] = []
    for number in range(groups):
        name = f"Group {number + 1}"
        pair = number // 2
        mob = f"Mob {pair % mobs + 1}" if dealt or pair < mobs else ""
        head = dice.choice((5, 20, 60, 120, 250))
        if number % 2:
            sheep.append(f"{name},lamb,{head},{mob},,,,2027-04-{dice.randint(1, 10):02},2027-04-{dice.randint(11, 28)},"
                         f"0.{dice.randint(20, 32)},45")  # fmt: skip
            events.append(f"2027-08-{dice.randint(5, 25):02},,weaning,{name}")
            _draft(dice, name, head, sales)
        else:
            kind = dice.choice(("ewe", "hogg", "ram")) if not mob else "ewe"
            sheep.append(f"{name},{kind},{head},{mob},{dice.randint(60, 85)},{dice.randint(42, 58)},2027-02-10,,,,")
            events.append(f"2027-0{dice.choice((6, 7))}-{dice.randint(1, 28):02},,shearing,{name}")
            if kind == "ewe":
                events.append(f"2027-04-01,2027-04-28,lambing,{name}")
    return sheep, events, sales


def _draft(dice: random.Random, name: str, head: int, sales: list[str]) -> None:
    left = head
    for number in range(dice.randint(0, 2)):
        sold = left // 2
        if sold:
            left -= sold
            purpose = dice.choice(("slaughter", "slaughter", "store"))
            sales.append(
                f"Draft {number + 1},{name},{sold},2027-{8 + number * 2:02}-{dice.randint(1, 28):02},{purpose}"
            )


def _risk(dice: random.Random, names: tuple[str, ...]) -> list[str]:
    rows = []
    for name in names:
        first = {"blowfly-strike": "05", "ticks": "03", "head-fly": "06"}[name]
        last = {"blowfly-strike": "09", "ticks": "06", "head-fly": "08"}[name]
        rows.append(f"{name},2027-{first}-{dice.randint(5, 25):02},2027-{last}-{dice.randint(5, 25):02},0.6")
        if name == "ticks":
            rows.append(f"ticks,2027-09-{dice.randint(1, 15):02},2027-10-{dice.randint(5, 25):02},0.4")
    return rows


def _label(dice: random.Random, number: int, names: tuple[str, ...]) -> str:
    active, group, meat, least, longest = ACTIVES[number % len(ACTIVES)]
    clash = 'not_with = [{ chemical_group = "organophosphate", days = 14 }]' if dice.random() < 0.5 else ""
    head = LABEL.format(
        name=active, active=active, group=group, meat=meat, interval=dice.choice((least, least // 2, least + 14)),
        most=dice.choice((2, 3, 4)), clash=clash, price=dice.randint(60, 160),
    )  # fmt: skip
    uses = []
    first = dice.randrange(len(names))
    for place, target in enumerate(names[first : first + dice.choice((1, 1, 2))]):
        both = ", ".join(f'"{name}"' for name in dict.fromkeys((target, *names[: 1 + (number == 0)])))
        uses.append(USE.format(id=f"use-{place}", targets=both, least=least, longest=longest,
                               light=dice.choice((5, 8, 10)), heavy=dice.choice((15, 20, 25))))  # fmt: skip
    return head + "\n".join(uses) + (REPEAT if number == 0 else "")
