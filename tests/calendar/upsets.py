"""What may happen to a farm between two plans: small random changes of its files, and days going by."""

import csv
import io
import random
import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from scheduler.report import Task
from tests.oracle.farms import RandomFarm

Row = dict[str, str]


@dataclass(frozen=True)
class Life:
    """A farm on a day, and the doses that its last plan holds."""

    farm: RandomFarm
    doses: tuple[Task, ...] = ()
    dice: random.Random = field(default_factory=random.Random)

    def with_file(self, name: str, text: str) -> "Life":
        """The farm with another text in one of its files."""
        return replace(self, farm=RandomFarm({**self.farm.files, name: text}, self.farm.today))

    def rows(self, name: str) -> list[Row]:
        """The rows of a table; none where it does not stand."""
        return list(csv.DictReader(io.StringIO(self.farm.files.get(name, ""))))

    def with_rows(self, name: str, rows: list[Row]) -> "Life":
        """The farm with other rows in a table."""
        written = io.StringIO()
        writer = csv.DictWriter(written, list(dict.fromkeys(key for row in rows for key in row)), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
        return self.with_file(name, written.getvalue())


def day_goes_by(life: Life) -> Life:
    """Some days later, with the doses of the days between recorded, or now and then forgotten."""
    today = life.farm.today + timedelta(days=life.dice.randint(1, 9))
    due = [dose for dose in life.doses if dose.status == "planned" and dose.day < today]
    given = [dose for dose in due if life.dice.random() < 0.8]
    later = replace(life, farm=RandomFarm(life.farm.files, today))
    rows = [_recorded(dose, life.doses, life.dice) for dose in given]
    return later.with_rows("record.csv", [*life.rows("record.csv"), *rows]) if rows else later


def _recorded(dose: Task, doses: tuple[Task, ...], dice: random.Random) -> Row:
    firsts = {one.uid: one.day.isoformat() for one in doses}
    first = firsts.get(dose.repeat_of or "", "")
    given = "no" if dice.random() < 0.1 else "yes"
    return {
        "date": dose.day.isoformat(),
        "group": dose.group or "",
        "label": dose.label or "",
        "use": dose.use or "",
        "cohort": dose.cohort or "",
        "head": str(dose.head),
        "given": given,
        "repeat_of": first,
    }


def sale_moves(life: Life) -> Life:
    """One sale some days sooner or later."""
    rows = life.rows("sales.csv")
    if rows:
        row = life.dice.choice(rows)
        row["date"] = (date.fromisoformat(row["date"]) + timedelta(days=life.dice.randint(-5, 5))).isoformat()
    return life.with_rows("sales.csv", rows) if rows else life


def sale_goes(life: Life) -> Life:
    """One sale less."""
    rows = life.rows("sales.csv")
    if len(rows) > 1:
        rows.remove(life.dice.choice(rows))
    return life.with_rows("sales.csv", rows) if rows else life


def day_closes(life: Life) -> Life:
    """One more closed day."""
    toml, day = life.farm.files["farm.toml"], life.farm.today + timedelta(days=life.dice.randint(0, 25))
    closed = re.search(r"^closed = \[(.*)\]$", toml, flags=re.MULTILINE)
    assert closed is not None
    days = ", ".join(one for one in (f'"{day}"', closed[1]) if one)
    return life.with_file("farm.toml", toml.replace(closed[0], f"closed = [{days}]"))


def group_grows(life: Life) -> Life:
    """One group with more head."""
    rows = life.rows("groups.csv")
    row = life.dice.choice(rows)
    row["head"] = str(int(row["head"]) + life.dice.randint(1, 9))
    return life.with_rows("groups.csv", rows)


def group_comes(life: Life) -> Life:
    """Another group on the farm."""
    name = f"Tups {life.dice.randint(1, 99)}"
    row = {"group": name, "kind": "ram", "head": "4", "heaviest_kg": "90", "lightest_kg": "70"}
    return life.with_rows("groups.csv", [*life.rows("groups.csv"), row])


def weather_turns(life: Life) -> Life:
    """What other weather does: a span of risk that begins and ends otherwise, or reaches higher."""
    rows = life.rows("risk.csv")
    row = life.dice.choice(rows)
    days = timedelta(days=life.dice.randint(-6, 6))
    row["from"], row["to"] = ((date.fromisoformat(row[key]) + days).isoformat() for key in ("from", "to"))
    row["level"] = life.dice.choice([row["level"], "0.6", "0.9"])
    return life.with_rows("risk.csv", rows)


FIGURES = (
    r"^(meat = )(\d+)",
    r"^(repeat_interval = )(\d+)",
    r"^(protects_days = \[)(\d+)",
    r"(use\.dose\]\][^\[]*?\bml = )(\d+)",
    r"(use\.dose\]\][^\[]*?\bml_per_kg = 0\.)(\d+)",
)
"""Figures of a label that a new leaflet may state otherwise."""


def label_changes(life: Life) -> Life:
    """A label with another withdrawal, interval, protection or dose."""
    name = life.dice.choice(sorted(one for one in life.farm.files if one.startswith("labels/")))
    pattern, more = life.dice.choice(FIGURES), life.dice.randint(-2, 4)

    def other(found: re.Match[str]) -> str:
        return f"{found[1]}{max(1, int(found[2]) + more)}"

    return life.with_file(name, re.sub(pattern, other, life.farm.files[name], count=1, flags=re.MULTILINE))


UPSETS: tuple[Callable[[Life], Life], ...] = (
    day_goes_by, sale_moves, sale_goes, day_closes, group_grows, group_comes, weather_turns, label_changes,
)  # fmt: skip
