"""Random but lawful farms, by family; every name, label and price is invented.

size 1: 10 to 20 days and one or two groups, for brute force; 2: 30 to 60 days; 3: 60 to 90 days.
A farm of a family has that family's matters and no others, so that a difference can be narrowed down.
"""

from __future__ import annotations

import csv
import io
import random
import tempfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path

from tests.oracle.farm_events import events, mobs
from tests.oracle.farm_labels import labels
from tests.oracle.farm_later import directions, findings, record, wishes
from tests.oracle.farm_sheep import groups, sales, weights
from tests.oracle.world import World, read_world

FAMILIES: dict[str, tuple[str, ...]] = {
    "plain": (),  # groups, one to three labels, risk that comes and goes: cover, fading, lead days, money of doses
    "work": ("work",),  # closed days, head limit, labour, people, gather minutes: gathers and handlings
    "sales": ("sales",),  # every purpose, margin, export, arrivals and leavings: withdrawal and export interval
    "food": ("sales", "food"),  # as sales, with milk, organic farms, unknown and not-permitted withdrawal
    "mobs": ("lambs", "mobs", "work"),  # ewes with lambs, lambing, weaning, gather_on = events, free gathers
    "housing": ("lambs", "mobs", "housing"),  # housing, turnout and away, with lambs that follow
    "fleece": ("fleece",),  # shearing, dipping, ends_at, fleece_weeks, wool interval, shedding sheep
    "lambs": ("lambs", "repeats"),  # growth, weights.csv, ages, bands, repeats for light lambs
    "clash": ("clash",),  # labels of one active, intervals, season maximum, product clashes
    "findings": ("findings", "mobs", "lambs"),  # strike in a few, in all, lice, scab, dags, treat uses
    "record": ("record", "lambs", "repeats", "clash"),  # full and partial rows, repeats recorded, owed or given up
    # what was done against sales and shearings to come
    "history": ("record", "lambs", "repeats", "sales", "fleece"),
    "wishes": ("wishes", "lambs", "repeats", "sales"),  # wishes lawful and not, with and without their repeats
    "directions": ("wishes", "directions", "sales", "food", "clash"),  # off-label wishes by a vet's direction
    "mixed": (  # everything, each matter with some chance
        "work",
        "sales",
        "food",
        "lambs",
        "mobs",
        "housing",
        "fleece",
        "repeats",
        "clash",
        "findings",
        "record",
        "wishes",
        "directions",
    ),
}
TARGETS = ("blowfly-strike", "ticks", "head-fly")
LEVELS = ("0", "0.1", "0.25", "0.29", "0.295", "0.3", "0.45", "0.495", "0.5", "0.7", "0.9", "1")


@dataclass(frozen=True)
class RandomFarm:
    """File name to text, and the fixed day it is planned for."""

    files: dict[str, str]
    today: date


@dataclass
class Draft:
    """A farm in the making: the dice, the matters it may have, and its files."""

    dice: random.Random
    matters: frozenset[str]
    size: int
    start: date = date(2027, 4, 1)
    end: date = date(2027, 6, 1)
    today: date = date(2027, 4, 1)
    targets: list[str] = field(default_factory=list)
    country: str = "GB"
    organic: bool = False
    files: dict[str, str] = field(default_factory=dict)

    def chance(self, share: float) -> bool:
        return self.dice.random() < share

    def day(self, first: date, last: date) -> date:
        """A day from first to last, both included."""
        return first + timedelta(days=self.dice.randint(0, max(0, (last - first).days)))

    def table(self, name: str, rows: Iterable[Mapping[str, object]]) -> None:
        """Write a CSV table, or nothing where there are no rows."""
        kept = [{key: "" if value is None else str(value) for key, value in row.items()} for row in rows]
        if not kept:
            return
        text = io.StringIO()
        writer = csv.DictWriter(text, list(dict.fromkeys(key for row in kept for key in row)), lineterminator="\n")
        writer.writeheader()
        writer.writerows(kept)
        self.files[name] = text.getvalue()

    def world(self) -> World:
        """The farm as written so far."""
        with tempfile.TemporaryDirectory() as place:
            write_farm(RandomFarm(self.files, self.today), Path(place))
            return read_world(Path(place), self.today)


def write_farm(farm: RandomFarm, folder: Path) -> None:
    """Write a farm's files into a folder."""
    for name, text in farm.files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="")


def _seasons(draft: Draft) -> None:
    dice = draft.dice
    length = {1: (10, 20), 2: (30, 60), 3: (60, 90)}[draft.size]
    draft.start = draft.day(date(2027, 3, 1), date(2027, 6, 1))
    draft.end = draft.start + timedelta(days=dice.randint(*length) - 1)
    late = draft.matters & {"findings", "record"} or draft.chance(0.3)
    draft.today = (
        draft.start + timedelta(days=dice.randint(2, 6)) if late else draft.start - timedelta(days=dice.randint(0, 10))
    )
    draft.targets = sorted(dice.sample(TARGETS, 1 if draft.size == 1 else dice.randint(1, 2)))
    if "findings" in draft.matters and draft.chance(0.3):
        draft.targets.append("lice")
    if "food" in draft.matters:
        draft.country = dice.choice(["GB", "GB", "GB-SCT", "GB-NIR", "IE", "NZ"])
        draft.organic = draft.chance(0.4)


def _closed(draft: Draft) -> list[str]:
    one = draft.day(draft.start, draft.end).isoformat()
    return draft.dice.choice(
        [[], [one], ["every Sunday"], ["FREQ=DAILY;INTERVAL=5"], [one, "every wednesday", "FREQ=WEEKLY;BYDAY=MO"]]
    )


def _farm_toml(draft: Draft) -> str:
    dice, work = draft.dice, "work" in draft.matters
    labour = dice.choice(["0", "18", "12.5"]) if work else dice.choice(["0", "15"])
    most = dice.choice([0, 0, 60, 120]) if work else 0
    closed = ", ".join(f'"{one}"' for one in (_closed(draft) if work else []))
    lead = dice.choice([21, 21, 7, 0])
    caution = dice.choice(["high", "high", "middle", "low"])
    margin = dice.choice([0, 0, 2]) if "sales" in draft.matters else 0
    targets = ", ".join(f'"{one}"' for one in draft.targets)
    return "\n".join(
        [
            "[farm]",
            'name = "Invented farm"',
            f'country = "{draft.country}"',
            'timezone = "Europe/London"',
            "latitude = 54.3",
            "longitude = -2.1",
            f"organic = {str(draft.organic).lower()}",
            "[season]",
            f"start = {draft.start}",
            f"end = {draft.end}",
            "[money]",
            'currency = "GBP"',
            f"labour_per_hour = {labour}",
            "[work]",
            f"gather_minutes = {dice.choice([30, 60, 75])}",
            f"minutes_per_head = {dice.choice(['0.5', '0.75'])}",
            f"most_head_per_day = {most}",
            f"closed = [{closed}]",
            "[plan]",
            f'caution = "{caution}"',
            f"targets = [{targets}]",
            f"lead_days = {lead}",
            f"sale_margin_days = {margin}",
            "",
        ]
    )


def _risk(draft: Draft, names: list[str]) -> None:
    rows: list[dict[str, object]] = []
    for target in draft.targets:
        for number in range(draft.dice.randint(1, 3)):
            first = draft.day(draft.start - timedelta(days=5), draft.end)
            last = first + timedelta(days=draft.dice.randint(3, 8 if draft.size == 1 else 40))
            level = draft.dice.choice(LEVELS[4:] if number == 0 else LEVELS)
            only = draft.dice.choice(names) if number and draft.chance(0.4) else ""
            rows.append({"target": target, "from": first, "to": last, "level": level, "groups": only})
    draft.table("risk.csv", rows)


def random_farm(seed: int, size: int = 2, family: str = "mixed") -> RandomFarm:
    """A farm of a family; the same seed, size and family give the same farm."""
    dice = random.Random(f"{family} {size} {seed}")
    matters = FAMILIES[family]
    if family == "mixed":
        matters = tuple(one for one in matters if dice.random() < 0.6)
    draft = Draft(dice, frozenset(matters), size)
    _seasons(draft)
    draft.files["farm.toml"] = _farm_toml(draft)
    names = groups(draft)
    _risk(draft, names)
    labels(draft)
    mobs(draft)
    events(draft)
    sales(draft)
    weights(draft)
    for step in (findings, record, directions, wishes):
        step(draft)
    return RandomFarm(draft.files, draft.today)
