"""The farm's season as the definitions state it, day by day: record, findings, levels and states.

Readings, where the definitions leave room (each the most literal one found):

groups and days
 1. `all` in events.csv names every group; so "any row of that kind names them" is true of `all` too.
 2. Lambs follow a housing or turnout when they share the mob on the event's `date`, and are away on those days of an
    away span on which they share the mob.
 3. A turnout on the very day of a housing does not end it ("next" = later).
 4. A lamb group alone in its mob that is weaned still forms `MOB weaned`, with MOB's row of mobs.csv.
 5. A free gather asks nothing of presence: an event of a group not yet or no longer on the farm gathers its mob.
 6. A found cohort takes from `stay`, then from the latest sale, then the sale before that; a source of none gives
    no cohort, and a cohort emptied by it is gone. From a sale the id always ends in /SALE. A finding with head =
    the group's concerns all its cohorts.
 7. A weighing of groups.csv with `weighed_on` after today is left out whole (both kilograms).
 8. For lambs `born_last` absent = `born_first` for the lightest too; before birth the weight at birth stands; age
    may be negative.
 9. A weight is needed unless the band is open at both ends with `ml` or `ml_per_100cm2`. step_ml and most_ml hold
    for ml_per_100cm2 too. The area is the largest among the findings of the use's targets on that day.
record
10. "Those" of a row are the cohorts it counts for, found cohorts bound through their source included.
11. A partial first dose obliges its repeat (it is recorded); a partial repeat does not end the duty (it makes no
    task done).
12. daily-head counts the head dosed on a day, recorded doses too: those given on made_for itself take of its room.
treatment and findings
13. A treat dose is judged by what stands that day after the doses of earlier days (given that day: no).
14. An at-risk day for too-early includes days of level 1 of a finding that still stands under the whole plan.
15. Lice and scab concern the cohorts on the farm on the finding's date (away ones too) in the mob of that date.
16. A target joins the plan where its finding stands, for some cohort and by the record alone, on a day from
    made_for to season.end.
courses
17. A direction helps a wish and its repeat, and a repeat owed by the record; never the plan's own doses. A pair is
    set aside by a direction that holds on the later day (equal days: either), and only among wishes and record;
    with an own dose the pair binds. Own courses of an active are allowed only while all courses of it together keep
    every limit among them.
18. A course is off-label, with its longer withdrawal, when any of its doses breaks a rule that is set aside.
19. A wished repeat must fall on d+a .. d+a+3. Without it the plan chooses the day.
20. Owed repeats of the record come before wishes, in order of first dose, row and cohort: one without a lawful day
    in its span (beside those before it) is fixed on the first lawful day after.
21. The export interval and clear.export bind only a cohort that has a slaughter (export = yes) or export sale.
22. Rules that fall on a repeat: all but dose-band and the standing of a finding.
23. Fading is counted from d + max(P, works_after): no day before the medicine works.
24. `store` and `breeding` sales, and no sale, never stop a dose (but meat "not-permitted" does).
25. A wish without `cohort` is meant for the cohorts that have not left by its day; before arrival it breaks `away`.

"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from functools import cache, cached_property
from pathlib import Path
from typing import Any

from tests.oracle.flock import Cohort, Flock, span
from tests.oracle.folder import Farm, Finding, Given, read_folder
from tests.oracle.leaflet import Label, Use
from tests.oracle.physic import cover, two_places

ACT = {"blowfly-strike": "0.3", "ticks": "0.3", "head-fly": "0.5", "lice": "0.5", "scab": "0.5"}
INDOORS_SAFE = ("blowfly-strike", "ticks", "head-fly")
TARGETS = ("blowfly-strike", "ticks", "head-fly")


@dataclass(frozen=True)
class Dose:
    """One use given to one cohort on one day. origin: own, wish, owed or record; full: record rows of all the head."""

    day: date
    cohort: str
    label: str
    use: str
    repeat_of: date | None = None
    origin: str = "own"
    full: bool = True
    row: int = 0

    @property
    def key(self) -> tuple[date, str, str, str]:
        return (self.day, self.cohort, self.label, self.use)


@dataclass(frozen=True)
class Course:
    """A first dose and its repeat. origin owed: the first is recorded, only the repeat is planned."""

    cohort: str
    label: str
    use: str
    first: date
    repeat: date | None
    origin: str = "own"
    row: int = 0

    @property
    def days(self) -> tuple[date, ...]:
        return (self.first,) if self.repeat is None else (self.first, self.repeat)

    @property
    def given(self) -> tuple[date, ...]:
        """The days of `doses`: of a course owed by the record the repeat's alone, the first stands in the record."""
        return tuple(dose.day for dose in self.doses)

    @property
    def doses(self) -> tuple[Dose, ...]:
        """The planned doses of the course."""
        first = Dose(self.first, self.cohort, self.label, self.use, None, self.origin, row=self.row)
        if self.repeat is None:
            return (first,)
        again = Dose(self.repeat, self.cohort, self.label, self.use, self.first, self.origin, row=self.row)
        return (again,) if self.origin == "owed" else (first, again)


class World(Flock):
    """A farm on a day, with everything the rules ask of it."""

    def __init__(self, farm: Farm) -> None:
        super().__init__(farm)
        plan: dict[str, Any] = farm.toml.get("plan", {})
        self.caution: str = plan.get("caution", "high")
        self.lead = timedelta(days=plan.get("lead_days", 21))
        self.margin: int = plan.get("sale_margin_days", 0)
        self.act = {
            target: two_places(Decimal(str(plan.get("act_level", {}).get(target, ACT[target])))) for target in ACT
        }
        self.organic: bool = farm.toml["farm"].get("organic", False)
        self.country: str = farm.toml["farm"]["country"]
        self.most_head: int = self.work.get("most_head_per_day", 0)
        self.asked: list[str] = list(plan.get("targets", TARGETS))
        self.base_level = cache(self._base_level)
        self.cover = cache(self._cover)

    def use(self, label: str, use: str) -> Use:
        return self.farm.labels[label].uses[use]

    def label(self, label: str) -> Label:
        return self.farm.labels[label]

    def counts_for(self, row: Given) -> list[Cohort]:
        """The cohorts that a row of record.csv or wishes.csv is about."""
        mine = [one for one in self.cohorts.values() if one.group.name == row.group]
        if row.cohort is None:
            return [one for one in mine if not self.has_left(one, row.day)]
        return [
            one
            for one in mine
            if one.id == row.cohort or (one.source == row.cohort and one.found is not None and row.day < one.found.day)
        ]

    @cached_property
    def record(self) -> dict[str, list[Dose]]:
        """Recorded doses by cohort, partial ones with full = False."""
        out: dict[str, list[Dose]] = {name: [] for name in self.cohorts}
        for row in self.farm.record:
            if not row.given:
                continue
            those = self.counts_for(row)
            full = (row.head or 0) >= sum(one.head for one in those)
            for one in those:
                out[one.id].append(Dose(row.day, one.id, row.label, row.use, row.repeat_of, "record", full, row.row))
        return out

    def dosed_before(self, day: date) -> set[str]:
        """Cohorts that the record says were dosed on a day."""
        return {name for name, doses in self.record.items() if any(dose.day == day for dose in doses)}

    @cached_property
    def answered(self) -> set[tuple[str, str, str, date]]:
        """(cohort, label, use, first day) of duties ended by a recorded repeat, or by given = no."""
        out = {
            (d.cohort, d.label, d.use, d.repeat_of) for ds in self.record.values() for d in ds if d.repeat_of and d.full
        }
        for row in self.farm.record:
            if not row.given and row.repeat_of:
                out |= {(one.id, row.label, row.use, row.repeat_of) for one in self.counts_for(row)}
        return {(a, b, c, d) for a, b, c, d in out if d is not None}

    def findings_of(self, cohort: Cohort) -> list[Finding]:
        """Findings that concern a cohort, whether or not they still stand."""
        return [one for one in self.farm.findings if one.what != "dags" and self._concerns(one, cohort)]

    def _concerns(self, finding: Finding, cohort: Cohort) -> bool:
        if finding.what in ("lice", "scab"):
            same = self.mob_of(cohort.group.name, finding.day) == self.mob_of(finding.group, finding.day)
            return same and self.on_farm(cohort, finding.day)
        if finding.group != cohort.group.name:
            return False
        return finding.head >= cohort.group.head or cohort.found == finding

    def ends(self, dose: Dose, finding: Finding) -> date | None:
        """The first day on which the finding no longer stands thanks to a dose, None where it does nothing for it."""
        use = self.use(dose.label, dose.use)
        if not use.treat or not dose.full or finding.what not in use.targets or dose.day < finding.day:
            return None
        return dose.day + timedelta(days=use.works)

    def stands(self, finding: Finding, day: date, doses: list[Dose]) -> bool:
        """Does a finding stand in the cohort whose doses these are (record included by the caller)?"""
        if day < finding.day or (finding.cleared is not None and day >= finding.cleared):
            return False
        ends = [self.ends(dose, finding) for dose in doses]
        return not any(end is not None and end <= day for end in ends)

    @cached_property
    def targets(self) -> list[str]:
        """Targets of the plan: those asked for, and those with a finding that stands from made_for on."""
        out = list(self.asked)
        days = span(self.today, self.end)
        for cohort in self.cohorts.values():
            for finding in self.findings_of(cohort):
                if finding.what not in out and any(self.stands(finding, day, self.record[cohort.id]) for day in days):
                    out.append(finding.what)
        return out

    def _base_level(self, name: str, target: str, day: date) -> Decimal:
        cohort = self.cohorts[name]
        group = cohort.group.name
        if not self.on_farm(cohort, day) or self.away(group, day):
            return Decimal(0)
        if target in INDOORS_SAFE and self.housed(group, day):
            return Decimal(0)
        levels = [
            one.level
            for one in self.farm.risks
            if one.target == target and one.first <= day <= one.last and group in one.groups
        ]
        return two_places(max(levels, default=Decimal(0)))

    def _cover(self, group: str, label: str, use: str, day: date) -> tuple[frozenset[date], frozenset[date]]:
        covered, fading = cover(self, self.farm.groups[group], self.use(label, use), day, self.caution)
        return frozenset(covered), frozenset(fading)

    def here(self, cohort: Cohort, day: date) -> bool:
        """On the farm and not away."""
        return self.on_farm(cohort, day) and not self.away(cohort.group.name, day)

    def infested(self, cohort: Cohort, target: str, day: date, doses: list[Dose]) -> bool:
        return any(one.what == target and self.stands(one, day, doses) for one in self.findings_of(cohort))

    def day_state(self, cohort: Cohort, target: str, day: date, doses: list[Dose]) -> tuple[Decimal, str]:
        """(level, state) of a cohort's day for a target, under all its doses (recorded ones included)."""
        if not self.here(cohort, day):
            return Decimal(0), "away"
        if self.infested(cohort, target, day, doses):
            return Decimal(1), "exposed"
        level = self.base_level(cohort.id, target, day)
        if level < self.act[target]:
            return level, "low"
        spans = [
            self.cover(cohort.group.name, d.label, d.use, d.day)
            for d in doses
            if d.full and target in self.use(d.label, d.use).targets
        ]
        if any(day in covered for covered, _ in spans):
            return level, "covered"
        return level, "fading" if any(day in fading for _, fading in spans) else "exposed"

    def area(self, cohort: Cohort, use: Use, day: date) -> Decimal | None:
        """Largest area found, cm2 a head, among findings of the use's targets dated by that day and not cleared."""
        areas = [
            one.area or Decimal(150)
            for one in self.findings_of(cohort)
            if one.what in use.targets and one.day <= day and (one.cleared is None or day < one.cleared)
        ]
        return max(areas, default=None)


def read_world(folder: Path, today: date) -> World:
    """The world of a farm folder, planned on `today`."""
    return World(read_folder(folder, today))
