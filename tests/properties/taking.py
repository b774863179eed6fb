"""A way out taken as a keeper would: the tables of the farm changed by what its sentence says."""

import csv
import io
import re
from collections.abc import Callable
from datetime import date

from scheduler.plan import Choice, Conflict, Plan
from tests.properties.planning import Texts

Rows = list[dict[str, str]]
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
DOSE = re.compile(r"head, (?P<label>\S+) \((?P<use>[^,)]+)\) on ")
SELL = re.compile(r"sell (?P<sale>.+) on (?P<day>\d+ \w+ \d{4}), \d+ days? later")
KEEP = re.compile(r"keep the \d+ head of (?P<sale>.+) on the farm")
GIVE = re.compile(r"give it on (?P<day>\d+ \w+ \d{4}), ")
GIVE_ALL = re.compile(r"give what (?P<groups>.+) get on (?P<old>\d+ \w+ \d{4}) on (?P<day>\d+ \w+ \d{4}), ")
USE = re.compile(r"use (?P<name>.+), (?P<use>[^,]+), on (?P<day>\d+ \w+ \d{4}) instead")
TAKE_OUT = re.compile(r"take the wish of (?P<day>\d+ \w+ \d{4}) out")


def taken(files: Texts, plan: Plan, conflict: Conflict, choice: Choice) -> Texts:
    """The farm with the way out taken."""
    for shape, take in WAYS:
        said = shape.match(choice.text)
        if said is not None:
            return take(files, plan, conflict, said)
    raise AssertionError(choice.text)


def _sold_later(files: Texts, plan: Plan, conflict: Conflict, said: re.Match[str]) -> Texts:
    rows = [
        row | {"date": _iso(said["day"])} if (row["sale"], row["group"]) == (said["sale"], conflict.group) else row
        for row in _rows(files, "sales.csv")
    ]
    return _with(files, "sales.csv", rows)


def _kept(files: Texts, plan: Plan, conflict: Conflict, said: re.Match[str]) -> Texts:
    sold = f"{conflict.group}/{said['sale']}"
    sales = [row for row in _rows(files, "sales.csv") if f"{row['group']}/{row['sale']}" != sold]
    wishes = [row for row in _rows(files, "wishes.csv") if row.get("cohort") != sold]
    record = [
        row | {"cohort": f"{conflict.group}/stay"} if row.get("cohort") == sold else row
        for row in _rows(files, "record.csv")
    ]
    return _with(_with(_with(files, "sales.csv", sales), "wishes.csv", wishes), "record.csv", record)


def _moved(files: Texts, plan: Plan, conflict: Conflict, said: re.Match[str]) -> Texts:
    return _wished(files, conflict, {"date": _iso(said["day"])})


def _all_moved(files: Texts, plan: Plan, conflict: Conflict, said: re.Match[str]) -> Texts:
    rows = [
        {"date": _iso(said["day"]), "group": task.group or "", "cohort": task.cohort or "",
         "label": task.label or "", "use": task.use or ""}
        for task in plan.tasks
        if (task.kind, task.status, task.day.isoformat()) == ("dose", "planned", _iso(said["old"]))
        and task.group in said["groups"].split("; ")
    ]  # fmt: skip
    return _with(files, "wishes.csv", _rows(files, "wishes.csv") + rows)


def _used(files: Texts, plan: Plan, conflict: Conflict, said: re.Match[str]) -> Texts:
    other = {"label": _label(files, said["name"]), "use": said["use"]}
    if conflict.cohort is not None:
        return _wished(files, conflict, other)
    label = "" if conflict.where is None else str(conflict.where.file).removeprefix("labels/").removesuffix(".toml")
    doses = [task for task in plan.tasks if (task.kind, task.status, task.label) == ("dose", "planned", label)]
    rows = [
        {"date": task.day.isoformat(), "group": task.group or "", "cohort": task.cohort or "", **other}
        for task in doses
        if task.day.isoformat() == _iso(said["day"]) and task.repeat_of is None
    ]
    return _with(files, "wishes.csv", _rows(files, "wishes.csv") + rows)


def _taken_out(files: Texts, plan: Plan, conflict: Conflict, said: re.Match[str]) -> Texts:
    places = [conflict.where, *(fact.where for fact in conflict.clash)]
    named = {where.row for where in places if where is not None and where.file == "wishes.csv"}
    rows = [
        row
        for place, row in enumerate(_rows(files, "wishes.csv"), 2)
        if place not in named or row["date"] != _iso(said["day"])
    ]
    return _with(files, "wishes.csv", rows)


WAYS: tuple[tuple[re.Pattern[str], Callable[[Texts, Plan, Conflict, re.Match[str]], Texts]], ...] = (
    (SELL, _sold_later),
    (KEEP, _kept),
    (GIVE, _moved),
    (GIVE_ALL, _all_moved),
    (USE, _used),
    (TAKE_OUT, _taken_out),
)


def _wished(files: Texts, conflict: Conflict, changed: dict[str, str]) -> Texts:
    """The wish of the conflict's row with some cells changed, or a new one in the place of a planned dose."""
    rows, where = _rows(files, "wishes.csv"), conflict.where
    if where is not None and where.file == "wishes.csv" and where.row is not None:
        rows[where.row - 2] |= changed
        return _with(files, "wishes.csv", rows)
    dose = DOSE.search(conflict.text)
    assert dose is not None
    assert conflict.day is not None
    row = {"date": conflict.day.isoformat(), "group": conflict.group or "", "cohort": conflict.cohort or ""}
    return _with(files, "wishes.csv", [*rows, row | {"label": dose["label"], "use": dose["use"]} | changed])


def _rows(files: Texts, name: str) -> Rows:
    return list(csv.DictReader(io.StringIO(files.get(name, ""))))


def _with(files: Texts, name: str, rows: Rows) -> Texts:
    """The farm with one table written anew; without it where no row is left."""
    others = {key: text for key, text in files.items() if key != name}
    if not rows:
        return others
    columns = dict.fromkeys(column for row in rows for column in row)
    out = io.StringIO()
    writer = csv.DictWriter(out, list(columns), restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return {**others, name: out.getvalue()}


def _iso(day: str) -> str:
    of_month, month, year = day.split()
    return date(int(year), MONTHS.index(month) + 1, int(of_month)).isoformat()


def _label(files: Texts, name: str) -> str:
    (file,) = [key for key, text in files.items() if key.startswith("labels/") and f'name = "{name}"' in text]
    return file.removeprefix("labels/").removesuffix(".toml")
