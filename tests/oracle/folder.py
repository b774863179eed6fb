"""Read a lawful, tidy farm folder (CSV and TOML, no fault handling) into plain frozen values."""

from __future__ import annotations

import csv
import io
import tomllib
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from tests.oracle.leaflet import Label, read_label

Row = dict[str, str]


@dataclass(frozen=True)
class Group:
    name: str
    kind: str
    head: int
    mob: str
    heaviest: Decimal | None
    lightest: Decimal | None
    weighed_on: date | None
    born_first: date | None
    born_last: date | None
    growth: Decimal
    grown: Decimal | None
    shedding: bool
    milk: bool
    export: bool
    arrives: date | None
    leaves: date | None


@dataclass(frozen=True)
class Event:
    row: int
    day: date
    end: date
    what: str
    groups: tuple[str, ...]


@dataclass(frozen=True)
class Sale:
    row: int
    name: str
    group: str
    head: int
    day: date
    purpose: str


@dataclass(frozen=True)
class Risk:
    target: str
    first: date
    last: date
    level: Decimal
    groups: tuple[str, ...]


@dataclass(frozen=True)
class Finding:
    row: int
    day: date
    group: str
    what: str
    head: int
    area: Decimal | None
    cleared: date | None


@dataclass(frozen=True)
class Weighing:
    day: date
    group: str
    heaviest: Decimal
    lightest: Decimal | None


@dataclass(frozen=True)
class Given:
    """A row of record.csv (head set) or of wishes.csv (head absent)."""

    row: int
    day: date
    group: str
    label: str
    use: str
    cohort: str | None
    repeat_of: date | None
    head: int | None
    given: bool


@dataclass(frozen=True)
class Direction:
    label: str
    use: str
    groups: tuple[str, ...]
    sets_aside: tuple[str, ...]
    signed: date
    until: date
    meat_days: int | None
    milk_days: int | None


@dataclass(frozen=True)
class Farm:
    toml: dict[str, Any]
    today: date
    groups: dict[str, Group]
    mobs: dict[str, Row]
    events: tuple[Event, ...]
    sales: tuple[Sale, ...]
    risks: tuple[Risk, ...]
    findings: tuple[Finding, ...]
    weighings: tuple[Weighing, ...]
    record: tuple[Given, ...]
    wishes: tuple[Given, ...]
    directions: tuple[Direction, ...]
    labels: dict[str, Label]


def _rows(folder: Path, name: str) -> list[tuple[int, Row]]:
    path = folder / name
    if not path.exists():
        return []
    reader = csv.DictReader(io.StringIO(path.read_text(encoding="utf-8")))
    return [
        (number, {key: (value or "").strip() for key, value in row.items()}) for number, row in enumerate(reader, 2)
    ]


def _day(text: str | None) -> date | None:
    return date.fromisoformat(text) if text else None


def _must(text: str) -> date:
    return date.fromisoformat(text)


def _kg(text: str | None) -> Decimal | None:
    return Decimal(text) if text else None


def _whole(text: str | None) -> int | None:
    return int(text) if text else None


def _names(text: str | None, every: tuple[str, ...]) -> tuple[str, ...]:
    if not text or text == "all":
        return every
    return tuple(name.strip() for name in text.split(";"))


def _group(row: Row, today: date) -> Group:
    weighed = _day(row.get("weighed_on"))
    weighed_later = weighed is not None and weighed > today
    return Group(
        name=row["group"],
        kind=row["kind"],
        head=int(row["head"]),
        mob=row.get("mob") or row["group"],
        heaviest=None if weighed_later else _kg(row.get("heaviest_kg")),
        lightest=None if weighed_later else _kg(row.get("lightest_kg")),
        weighed_on=weighed,
        born_first=_day(row.get("born_first")),
        born_last=_day(row.get("born_last")),
        growth=_kg(row.get("growth_kg_per_day")) or Decimal(0),
        grown=_kg(row.get("grown_kg")),
        shedding=row.get("wool") == "shedding",
        milk=row.get("milk") == "yes",
        export=row.get("export") == "yes",
        arrives=_day(row.get("arrives")),
        leaves=_day(row.get("leaves")),
    )


def _given(number: int, row: Row) -> Given:
    return Given(
        row=number,
        day=_must(row["date"]),
        group=row["group"],
        label=row["label"],
        use=row["use"],
        cohort=row.get("cohort") or None,
        repeat_of=_day(row.get("repeat_of")),
        head=_whole(row.get("head")),
        given=row.get("given") != "no",
    )


def _finding(number: int, row: Row) -> Finding:
    return Finding(
        number,
        _must(row["date"]),
        row["group"],
        row["what"],
        _whole(row.get("head")) or 1,
        _kg(row.get("area_cm2")),
        _day(row.get("cleared")),
    )


def _direction(row: Row, every: tuple[str, ...]) -> Direction:
    return Direction(
        row["label"],
        row["use"],
        _names(row["groups"], every),
        tuple(one.strip() for one in row["sets_aside"].split(";")),
        _must(row["signed"]),
        _must(row["until"]),
        _whole(row.get("meat_days")),
        _whole(row.get("milk_days")),
    )


def _events(folder: Path, every: tuple[str, ...]) -> tuple[Event, ...]:
    return tuple(
        Event(n, _must(r["date"]), _day(r.get("end")) or _must(r["date"]), r["what"], _names(r["groups"], every))
        for n, r in _rows(folder, "events.csv")
    )


def read_folder(folder: Path, today: date) -> Farm:
    """The farm of a folder as planned on `today`: rows dated after it (wishes: before it) are left out."""
    groups = {row["group"]: _group(row, today) for _, row in _rows(folder, "groups.csv")}
    every = tuple(groups)
    weighings = [
        Weighing(_must(r["date"]), r["group"], Decimal(r["heaviest_kg"]), _kg(r.get("lightest_kg")))
        for _, r in _rows(folder, "weights.csv")
    ]
    findings = [_finding(n, r) for n, r in _rows(folder, "findings.csv")]
    record = [_given(n, r) for n, r in _rows(folder, "record.csv")]
    wishes = [_given(n, r) for n, r in _rows(folder, "wishes.csv")]
    return Farm(
        toml=tomllib.loads((folder / "farm.toml").read_text(encoding="utf-8"), parse_float=Decimal),
        today=today,
        groups=groups,
        mobs={row["mob"]: row for _, row in _rows(folder, "mobs.csv")},
        events=_events(folder, every),
        sales=tuple(
            Sale(n, r["sale"], r["group"], int(r["head"]), _must(r["date"]), r["purpose"])
            for n, r in _rows(folder, "sales.csv")
        ),
        risks=tuple(
            Risk(r["target"], _must(r["from"]), _must(r["to"]), Decimal(r["level"]), _names(r.get("groups"), every))
            for _, r in _rows(folder, "risk.csv")
        ),
        findings=tuple(one for one in findings if one.day <= today),
        weighings=tuple(one for one in weighings if one.day <= today),
        record=tuple(one for one in record if one.day <= today),
        wishes=tuple(one for one in wishes if one.day >= today),
        directions=tuple(_direction(r, every) for _, r in _rows(folder, "directions.csv")),
        labels={
            path.stem: read_label(path.stem, tomllib.loads(path.read_text(encoding="utf-8"), parse_float=Decimal))
            for path in sorted((folder / "labels").glob("*.toml"))
        },
    )
