"""The mobs and the dated events of a random farm."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from tests.oracle.farm_sheep import rows_of

if TYPE_CHECKING:
    from tests.oracle.farms import Draft

Rows = list[dict[str, object]]


def mobs(draft: Draft) -> None:
    """Write mobs.csv for some of the mobs."""
    if not draft.matters & {"mobs", "work"}:
        return
    names = sorted({row["mob"] or row["group"] for row in rows_of(draft, "groups.csv")})
    rows = []
    for name in names:
        if draft.chance(0.7):
            only = draft.dice.choice(["any", "", "events"] if "mobs" in draft.matters else ["any"])
            minutes = draft.dice.choice(["", 45, 90])
            rows.append(
                {"mob": name, "gather_minutes": minutes, "people": draft.dice.choice(["", 1, 2]), "gather_on": only}
            )
    draft.table("mobs.csv", rows)


def _event(day: date, what: str, groups: str, end: date | None = None) -> dict[str, object]:
    return {"date": day, "end": end, "what": what, "groups": groups}


def _of_mobs(draft: Draft, lambs: list[str]) -> Rows:
    rows = [_event(draft.day(draft.start, draft.end), "gather", draft.dice.choice(["Ewes", "all"])) for _ in range(3)]
    first = draft.day(draft.start, draft.end)
    rows.append(_event(first, "gather", "Ewes", first + timedelta(days=2)))
    if draft.chance(0.5):
        lambing = draft.day(draft.start - timedelta(days=5), draft.start + timedelta(days=12))
        rows.append(_event(lambing, "lambing", "Ewes", lambing + timedelta(days=draft.dice.randint(0, 6))))
    for name in lambs:
        if draft.chance(0.6):
            rows.append(_event(draft.day(draft.start, draft.end), "weaning", name))
    if draft.chance(0.4):
        rows.append(_event(draft.day(draft.start, draft.end), "crutching", "Ewes"))
    return rows


def _of_housing(draft: Draft, lambs: list[str]) -> Rows:
    third = (draft.end - draft.start) // 3
    rows = []
    if draft.chance(0.5):
        rows.append(_event(draft.day(draft.start, draft.start + third), "turnout", draft.dice.choice(["Ewes", "all"])))
    if draft.chance(0.6):
        housed = draft.day(draft.start + third + timedelta(days=1), draft.end - timedelta(days=3))
        rows.append(_event(housed, "housing", "Ewes"))
        if draft.chance(0.5):
            rows.append(_event(housed + timedelta(days=draft.dice.randint(1, 8)), "turnout", "Ewes"))
    if lambs and draft.chance(0.3):
        rows.append(_event(draft.day(draft.start, draft.end), draft.dice.choice(["housing", "turnout"]), lambs[0]))
    if draft.chance(0.6):
        gone = draft.day(draft.start, draft.end)
        names = draft.dice.choice(["Ewes", "all", *lambs])
        rows.append(_event(gone, "away", names, gone + timedelta(days=draft.dice.randint(0, 7))))
    return rows


def _of_fleece(draft: Draft, adults: list[str]) -> Rows:
    rows = []
    for name in adults:
        if draft.chance(0.7):
            rows.append(
                _event(draft.day(draft.start - timedelta(days=20), draft.end + timedelta(days=5)), "shearing", name)
            )
        if draft.chance(0.3):
            rows.append(_event(draft.day(draft.start, draft.end), "dipping", name))
    return rows


def _calm(rows: Rows) -> Rows:
    """No weaning inside an away span, which the definitions leave open."""
    spans = [(row["date"], row["end"]) for row in rows if row["what"] == "away"]
    return [row for row in rows if row["what"] != "weaning" or not any(a <= row["date"] <= b for a, b in spans)]  # type: ignore[operator]


def events(draft: Draft) -> None:
    """Write events.csv."""
    groups = rows_of(draft, "groups.csv")
    lambs = [row["group"] for row in groups if row["kind"] == "lamb"]
    rows: Rows = []
    if "mobs" in draft.matters:
        rows += _of_mobs(draft, lambs)
    if "housing" in draft.matters:
        rows += _of_housing(draft, lambs)
    if "fleece" in draft.matters:
        rows += _of_fleece(draft, [row["group"] for row in groups if row["kind"] != "lamb"])
    for row in groups:
        if row["arrives"] and draft.chance(0.6):
            rows.append(_event(date.fromisoformat(row["arrives"]), "arrival", row["group"]))
    draft.table("events.csv", _calm(rows))
