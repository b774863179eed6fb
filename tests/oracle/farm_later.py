"""What came after the season was set up: findings, the record, a vet's directions and wishes."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from tests.oracle.flock import Cohort
from tests.oracle.rules import owed_days
from tests.oracle.world import World

if TYPE_CHECKING:
    from tests.oracle.farms import Draft


def findings(draft: Draft) -> None:
    """Write findings.csv: of a few head, of a whole group, lice and scab of a mob, dags."""
    if "findings" not in draft.matters:
        return
    rows: list[dict[str, object]] = []
    for _ in range(draft.dice.randint(1, 2 if draft.size == 1 else 3)):
        day = draft.day(draft.today - timedelta(days=3), draft.today)
        world = draft.world()
        name = draft.dice.choice(
            [one.group.name for one in world.cohorts.values() if world.on_farm(one, day)] or ["Ewes"]
        )
        here = sum(one.head for one in world.cohorts.values() if one.group.name == name and world.on_farm(one, day))
        head = draft.dice.choice(["", max(1, here // 5), here])
        if not here or len([row for row in rows if row["group"] == name]) > 1:
            continue
        what = draft.dice.choice(["blowfly-strike", "blowfly-strike", "ticks", "lice", "scab", "dags"])
        cleared = day + timedelta(days=draft.dice.randint(4, 15)) if draft.chance(0.3) else None
        area = draft.dice.choice(["", 90, 400])
        rows.append({"date": day, "group": name, "what": what, "head": head, "area_cm2": area, "cleared": cleared})
        if any(one["head"] and int(str(one["head"])) > 1 for one in rows[:-1]) and what not in ("lice", "scab", "dags"):
            rows[-1]["head"] = 1
    draft.table("findings.csv", rows)


def _some_use(draft: Draft, world: World, treat: bool) -> tuple[str, str]:
    uses = [
        (name, use.id)
        for name, label in world.farm.labels.items()
        for use in label.uses.values()
        if treat or not use.treat
    ]
    return draft.dice.choice(uses)


def _row(day: date, cohort: Cohort, named: bool, label: str, use: str) -> dict[str, object]:
    row: dict[str, object] = {"date": day, "group": cohort.group.name, "label": label, "use": use}
    return row | {"head": None, "cohort": cohort.id if named else None, "repeat_of": None, "given": "yes"}


def _again(draft: Draft, world: World, cohort: Cohort, row: dict[str, object], full: int) -> dict[str, object] | None:
    """A recorded repeat, or given = no, of a recorded first dose that obliges one."""
    first, use = row["date"], str(row["use"])
    assert isinstance(first, date)
    days = [one for one in owed_days(world, cohort, str(row["label"]), use, first) or [] if one <= draft.today]
    if not days or draft.chance(0.4):
        return None
    given = draft.dice.choice(["yes", "yes", "no"])
    return row | {"date": draft.dice.choice(days), "head": full, "repeat_of": first, "given": given}


def record(draft: Draft) -> None:
    """Write record.csv: rows of all the head or of some (none that would owe a repeat), of a cohort or a group."""
    if "record" not in draft.matters:
        return
    rows: list[dict[str, object]] = []
    world = draft.world()
    for _ in range(draft.dice.randint(1, 4)):
        treat = draft.chance(0.4)
        label, use = _some_use(draft, world, treat)
        cohort = draft.dice.choice(sorted(world.cohorts.values(), key=lambda one: one.id))
        since = max(draft.today - timedelta(days=25), cohort.group.born_last or cohort.group.born_first or date.min)
        latest = draft.today - timedelta(days=1)
        if since > latest:
            continue
        day = draft.day(since, latest)
        named = draft.chance(0.4)
        mine = [one for one in world.cohorts.values() if one.group.name == cohort.group.name]
        late = [one for one in mine if one.found and one.source == cohort.id and day < one.found.day]
        those = [cohort, *late] if named else [one for one in mine if not world.has_left(one, day)]
        full = sum(one.head for one in those)
        if world.has_left(cohort, day) or any(row["date"] == day and row["group"] == cohort.group.name for row in rows):
            continue
        row = _row(day, cohort, named, label, use)
        owing = owed_days(world, cohort, label, use, day) is not None
        row["head"] = full if owing or full == 1 or draft.chance(0.7) else draft.dice.randint(1, full - 1)
        rows.append(row)
        again = _again(draft, world, cohort, row, full)
        if again is not None:
            rows.append(again)
    draft.table("record.csv", sorted(rows, key=lambda row: str(row["date"])))


def directions(draft: Draft) -> None:
    """Write directions.csv: at most one row for a label, use and group."""
    if "directions" not in draft.matters:
        return
    rows: list[dict[str, object]] = []
    world = draft.world()
    slugs = ["use-on-label", "youngest-age", "dose-band", "repeat-interval", "season-maximum", "fleece-weeks"]
    for name, label in world.farm.labels.items():
        for use in label.uses:
            if draft.chance(0.8):
                until = draft.day(draft.today, draft.end + timedelta(days=9))
                groups = draft.dice.choice(["Ewes", ";".join(world.farm.groups)])
                aside = ";".join(draft.dice.sample(slugs, draft.dice.randint(2, 5)))
                row = {
                    "label": name,
                    "use": use,
                    "groups": groups,
                    "sets_aside": aside,
                    "signed": draft.today - timedelta(days=1),
                }
                meat, milk = draft.dice.choice(["", 5, 28, 40]), draft.dice.choice(["", 7])
                rows.append(row | {"until": until, "meat_days": meat, "milk_days": milk, "vet": "A. Nother (invented)"})
    draft.table("directions.csv", rows)


def wishes(draft: Draft) -> None:
    """Write wishes.csv: lawful and unlawful first doses, some with their repeat."""
    if "wishes" not in draft.matters:
        return
    rows: list[dict[str, object]] = []
    world = draft.world()
    seen = set()
    for _ in range(draft.dice.randint(1, 2 if draft.size == 1 else 4)):
        label, use = _some_use(draft, world, treat=True)
        cohort = draft.dice.choice(sorted(world.cohorts.values(), key=lambda one: one.id))
        day = draft.day(world.opening, draft.end)
        if (day, cohort.group.name) in seen or world.has_left(cohort, day):
            continue
        seen.add((day, cohort.group.name))
        named = draft.chance(0.4) and cohort.id.count("/") == 1
        row = _row(day, cohort, named, label, use)
        row = {key: value for key, value in row.items() if key not in ("head", "given")}
        rows.append(row)
        days = [one for one in owed_days(world, cohort, label, use, day) or [] if one <= draft.end]
        if days and draft.chance(0.5):
            rows.append(row | {"date": draft.dice.choice(days), "repeat_of": day})
    draft.table("wishes.csv", rows)
