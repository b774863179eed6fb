"""The sheep of a random farm: groups, sales and weighings."""

from __future__ import annotations

import csv
import io
from datetime import date, timedelta
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.oracle.farms import Draft

PURPOSES = ("slaughter", "slaughter", "export", "store", "breeding")


def rows_of(draft: Draft, name: str) -> list[dict[str, str]]:
    """The rows of a table written before."""
    return list(csv.DictReader(io.StringIO(draft.files.get(name, ""))))


def groups(draft: Draft) -> list[str]:
    """Write groups.csv; the names."""
    rows = [_adults(draft, "Ewes", "ewe")]
    if "lambs" in draft.matters:
        rows += [
            _lambs(draft, name)
            for name in (["Lambs"] if draft.size == 1 or draft.chance(0.6) else ["Lambs", "Late lambs"])
        ]
    others = [("Hoggs", "hogg"), ("Rams", "ram"), ("Stores", "store")]
    for name, kind in draft.dice.sample(others, draft.dice.randint(0, 1 if draft.size == 1 or len(rows) > 1 else 2)):
        rows.append(_adults(draft, name, kind))
    if "mobs" in draft.matters:
        for row in rows:
            if row["kind"] in ("ewe", "lamb") or draft.chance(0.2):
                row["mob"] = "Hill mob"
    draft.table("groups.csv", rows)
    return [str(row["group"]) for row in rows]


def _adults(draft: Draft, name: str, kind: str) -> dict[str, object]:
    dice = draft.dice
    row: dict[str, object] = dict.fromkeys(
        [
            "group",
            "kind",
            "head",
            "mob",
            "heaviest_kg",
            "lightest_kg",
            "weighed_on",
            "born_first",
            "born_last",
            "growth_kg_per_day",
            "grown_kg",
            "wool",
            "milk",
            "export",
            "arrives",
            "leaves",
        ]
    )
    row |= {"group": name, "kind": kind, "head": dice.choice([3, 8, 20, 45, 70, 110])}
    row |= {"heaviest_kg": dice.choice([62, 71.5, 80]), "lightest_kg": dice.choice(["", 41, 50.5])}
    if draft.chance(0.3):
        row |= {
            "weighed_on": draft.day(draft.today - timedelta(days=60), draft.today),
            "growth_kg_per_day": "0.05",
            "grown_kg": 84,
        }
    elif draft.chance(0.1):
        row |= {"heaviest_kg": None, "lightest_kg": None}
    if kind == "hogg" and draft.chance(0.4):
        row["born_first"] = draft.start - timedelta(days=dice.randint(250, 400))
    if "fleece" in draft.matters and draft.chance(0.25):
        row["wool"] = "shedding"
    if "food" in draft.matters and kind == "ewe" and draft.chance(0.4):
        row["milk"] = "yes"
    if "sales" in draft.matters:
        _comes_and_goes(draft, row, kind)
    return row


def _comes_and_goes(draft: Draft, row: dict[str, object], kind: str) -> None:
    row["export"] = draft.dice.choice(["yes", "no"])
    if kind == "store" and draft.chance(0.7):
        row["arrives"] = draft.day(draft.start - timedelta(days=3), draft.start + (draft.end - draft.start) / 3)
    if kind != "ewe" and draft.chance(0.3):
        row["leaves"] = draft.day(draft.end - (draft.end - draft.start) / 3, draft.end + timedelta(days=10))


def _lambs(draft: Draft, name: str) -> dict[str, object]:
    row = _adults(draft, name, "lamb")
    born = draft.day(draft.start - timedelta(days=50), draft.start + timedelta(days=4 if draft.size == 1 else 10))
    row |= {
        "born_first": born,
        "born_last": born + timedelta(days=draft.dice.choice([0, 5, 18])) if draft.chance(0.8) else None,
    }
    row |= {
        "growth_kg_per_day": draft.dice.choice(["0.15", "0.25", "0.32"]),
        "grown_kg": draft.dice.choice(["", 40, 30]),
    }
    row |= {"heaviest_kg": None, "lightest_kg": None, "weighed_on": None, "arrives": None, "milk": None}
    if draft.chance(0.4) and born < draft.today:
        row |= {"heaviest_kg": draft.dice.choice([11, 14.5, 19]), "lightest_kg": draft.dice.choice(["", 6, 9.2])}
        row["weighed_on"] = draft.day(born, draft.today + timedelta(days=3))
    return row


def _first_day(draft: Draft, row: dict[str, str]) -> date:
    """A day from which the group may be sold."""
    texts = [row["arrives"], row["born_last"] or row["born_first"]]
    return max([draft.start, *(date.fromisoformat(one) for one in texts if one)]) + timedelta(days=3)


def sales(draft: Draft) -> None:
    """Write sales.csv: dates of a group differ, and what is sold is no more than it has."""
    if "sales" not in draft.matters:
        return
    rows = []
    for row in rows_of(draft, "groups.csv"):
        last = min(draft.end + timedelta(days=20), date.fromisoformat(row["leaves"] or "2099-01-01"))
        days = {draft.day(_first_day(draft, row), last) for _ in range(draft.dice.randint(0, 2))}
        left = int(row["head"])
        for number, day in enumerate(sorted(one for one in days if one <= last and one >= _first_day(draft, row)), 1):
            head = draft.dice.randint(1, left) if left > 1 else left
            left -= head
            if head:
                purpose = draft.dice.choice(PURPOSES)
                rows.append(
                    {"sale": f"draw {number}", "group": row["group"], "head": head, "date": day, "purpose": purpose}
                )
    draft.table("sales.csv", rows)


def weights(draft: Draft) -> None:
    """Write weights.csv for groups that grow, some rows dated after today."""
    rows = []
    for row in rows_of(draft, "groups.csv"):
        if row["kind"] == "lamb" and draft.chance(0.5):
            born = date.fromisoformat(row["born_last"] or row["born_first"])
            days = sorted(
                {draft.day(born, max(born, draft.today) + timedelta(days=2)) for _ in range(draft.dice.randint(1, 2))}
            )
            for day in days:
                heavy = 9 + 0.3 * (day - born).days
                light = draft.dice.choice(["", f"{heavy * 0.55:.1f}"])
                rows.append(
                    {
                        "date": day,
                        "group": row["group"],
                        "head": "",
                        "heaviest_kg": f"{heavy:.1f}",
                        "mean_kg": "",
                        "lightest_kg": light,
                    }
                )
    draft.table("weights.csv", rows)
