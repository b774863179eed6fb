"""The season: the farm over its days, as rules, planner and judge ask about it."""

from bisect import bisect_left
from collections.abc import Iterable
from datetime import date
from decimal import Decimal
from functools import cache, cached_property

from scheduler.facts import facts
from scheduler.farm import Direction, Event, Farm, Mob, minor_decimals
from scheduler.labels import Label, NoBand, RepeatDuty, Use, dose_ml, repeat_due
from scheduler.season.cohorts import Cohort, cohorts_of
from scheduler.season.cover import Cover, cover_of
from scheduler.season.doses import Dose, Doses
from scheduler.season.findings import Findings
from scheduler.season.level_notes import level_notes
from scheduler.season.levels import OUTDOOR_TARGETS, Levels, WhichWeather
from scheduler.season.presence import Presence
from scheduler.season.record import recorded, waived
from scheduler.season.weights import Weights
from scheduler.words import TARGETS, Span, Target, days_of, plus, two_decimals


class Season:
    """One farm from `made_for` on. Everything is computed from the farm's rows; nothing is planned here.

    year: which weather gives the levels; None: what the plan reckons with. before: a season of the same day and year
    whose answers are taken up where they rest on rows that the farms share.
    """

    def __init__(self, farm: Farm, made_for: date, year: WhichWeather = None, before: "Season | None" = None) -> None:
        self.farm = farm
        self._year = year
        self.made_for = made_for
        self.settings = farm.settings
        self.span = Span(farm.settings.start, farm.settings.end)
        self.first_day = max(made_for, farm.settings.start)
        self.cohorts = cohorts_of(farm)
        self._before = before if before is not None and _differ_in_use_alone(farm, before.farm) else None
        self.presence: Presence = Presence(farm) if self._before is None else self._before.presence
        self.weights: Weights = Weights(farm) if self._before is None else self._before.weights
        self.findings = Findings(farm, self.presence)
        self.minor: int = 10 ** minor_decimals(farm.settings.currency)
        self.closed = frozenset(day for entry in farm.settings.closed for day in entry.days)
        self._mobs = {mob.name: mob for mob in farm.mobs}
        self._covers: dict[tuple[str, int, date], Cover] = {}
        self._band_ml = cache(self._band_ml_on)
        self.is_here = cache(self._is_here)
        self.reaches_act_level = cache(self._reaches_act_level)
        self.base_level = cache(self._base_level)
        self.is_at_risk = cache(self._is_at_risk)
        self._risk_days = cache(self._risk_days_of)
        self._risk_days_of_group = cache(self._days_at_risk)

    @cached_property
    def window(self) -> Span:
        """The days on which doses may be planned."""
        return Span(self.first_day, self.span.last)

    def cohorts_of_group(self, group: str) -> tuple[Cohort, ...]:
        """The cohorts of one group, by id."""
        return tuple(cohort for cohort in self.cohorts if cohort.group.name == group)

    def mob_row(self, mob: str) -> Mob:
        """Work figures of a mob; lambs weaned keep those of the mob they left."""
        return self._mobs.get(mob) or self._mobs.get(mob.removesuffix(" weaned")) or Mob(name=mob)

    # Presence and risk

    def _is_here(self, cohort: Cohort, day: date) -> bool:
        """On the farm, and not away for the day."""
        return self.presence.on_farm(cohort, day) and not self.presence.is_away(cohort.group.name, day)

    @cached_property
    def levels(self) -> Levels:
        """Levels by target, group and day."""
        if self._before is not None and self._before.targets == self.targets:
            return self._before.levels
        return Levels(self.farm, frozenset(self.targets) - frozenset(self.settings.targets), self._year)

    @cached_property
    def targets(self) -> tuple[Target, ...]:
        """Targets of the plan: the farm's, and those with a finding that stands on a day from made_for on."""
        return tuple(target for target in TARGETS if target in self.settings.targets or self._is_found(target))

    @cached_property
    def level_notes(self) -> tuple[str, ...]:
        """What must be said of levels that come from weather, in sentences."""
        return level_notes(self.levels, self.targets, self.settings.caution)

    def _is_found(self, target: Target) -> bool:
        record = self.record
        return any(
            self.findings.standing(cohort, target, day, record.of(cohort))
            for cohort in self.cohorts
            if self.findings.of(cohort, target)
            for day in self.window.days()
            if self.presence.on_farm(cohort, day)
        )

    def _base_level(self, cohort: Cohort, target: Target, day: date) -> Decimal:
        """Level without findings: 0 where the cohort is not on the farm, away, or housed out of the target's reach."""
        return self._level_of_group(cohort.group.name, target, day) if self.is_here(cohort, day) else Decimal(0)

    def _level_of_group(self, group: str, target: Target, day: date) -> Decimal:
        if target in OUTDOOR_TARGETS and self.presence.is_housed(group, day):
            return Decimal(0)
        return self.levels.on(target, group, day)

    def is_risk_between(self, cohort: Cohort, target: Target, first: date, last: date) -> bool:
        """Whether any day from first to last, both included, is at risk by its base level."""
        days = self._risk_days(cohort, target)
        place = bisect_left(days, first)
        return place < len(days) and days[place] <= last

    def _risk_days_of(self, cohort: Cohort, target: Target) -> list[date]:
        """All days at risk by their base level, in order: as far back and ahead as any dose of the season can cover."""
        days = self._risk_days_of_group(cohort.group.name, target)
        return [day for day in days if self.is_here(cohort, day)]

    def _days_at_risk(self, group: str, target: Target) -> list[date]:
        """The same days of a group, whoever of it is here."""
        if self._before is not None and self._before.levels is self.levels:
            return self._before._risk_days_of_group(group, target)
        beyond = max((use.protects_days[1] for _, use in self.uses()), default=0)
        earliest = min([self.span.first, *(row.day for row in self.farm.record)])
        days = days_of(earliest, plus(self.span.last, beyond))
        return [day for day in days if self.reaches_act_level(target, self._level_of_group(group, target, day))]

    def _reaches_act_level(self, target: Target, level: Decimal) -> bool:
        """Whether a level reaches the act level, both at two decimals, half up."""
        return two_decimals(level) >= two_decimals(self.settings.act_level[target])

    def _is_at_risk(self, cohort: Cohort, target: Target, day: date) -> bool:
        """Whether the base level reaches the act level on the day; findings are looked at elsewhere."""
        return self.reaches_act_level(target, self.base_level(cohort, target, day)) and self.is_here(cohort, day)

    # Doses

    @cached_property
    def record(self) -> Doses:
        """The doses given, as record.csv has them."""
        return Doses(recorded(self.farm, self.cohorts))

    @cached_property
    def waived_repeats(self) -> frozenset[tuple[str, str, str, date]]:
        """(cohort, label, use, day of the first dose) of the repeats that the keeper has written off."""
        return waived(self.farm, self.cohorts)

    def cover(self, cohort: Cohort, use: Use, day: date) -> Cover:
        """Cover of a dose of the use given to the cohort on the day."""
        key = (cohort.group.name, id(use), day)
        if key not in self._covers:
            ends_at = self.event_days(cohort, *use.ends_at)
            self._covers[key] = cover_of(use, day, self.settings.caution, ends_at)
        return self._covers[key]

    def event_days(self, cohort: Cohort, *kinds: str) -> list[date]:
        """Dates of the events of these kinds that name the cohort's group, in order."""
        return sorted(event.first for event in self.farm.events
                      if event.what in kinds and cohort.group.name in event.groups)  # fmt: skip

    def shearings(self, cohort: Cohort) -> list[Event]:
        """Shearings that name the cohort's group, in order of date."""
        named = self.presence.events("shearing", cohort.group.name)
        return sorted(named, key=lambda event: event.first)

    def repeat_duty(self, cohort: Cohort, use: Use, day: date) -> RepeatDuty | None:
        """The repeat that a first dose on the day obliges, by the lightest sheep's weight."""
        return repeat_due(use, self.weights.on(cohort.group.name, day).lightest)

    def dose_ml(self, dose: Dose) -> Decimal | NoBand:
        """Millilitres a head: of the band for the heaviest, or the repeat's own."""
        if dose.first_day is not None:
            duty = self.repeat_duty(dose.cohort, dose.use, dose.first_day)
            if duty is not None:
                return duty.ml
        area = self._area_cm2(dose) if dose.use.purpose == "treat" else None
        return self._band_ml(dose.cohort.group.name, dose.label.id, dose.use.id, dose.day, area)

    def _band_ml_on(self, group: str, label: str, use: str, day: date, area: Decimal | None) -> Decimal | NoBand:
        weight = self.weights.on(group, day)
        found = self.farm.labels[label].use(use)
        return NoBand("weight") if found is None else dose_ml(found, weight.heaviest, weight.lightest, area)

    def _area_cm2(self, dose: Dose) -> Decimal | None:
        """The largest area found, cm2 a head, among findings of the use's targets seen by the day and not cleared."""
        unmeasured = facts().figures.struck_area_cm2.value
        areas = [
            unmeasured if row.area_cm2 is None else row.area_cm2
            for target in dose.use.targets
            for row in self.findings.standing(dose.cohort, target, dose.day, ())
        ]
        return max(areas, default=None)

    def directions(self, dose: Dose, slug: str) -> tuple[Direction, ...]:
        """The vet's directions in force on its day that set the rule aside for this dose."""
        return tuple(
            row
            for row in self.farm.directions
            if row.label == dose.label.id
            and row.use == dose.use.id
            and dose.cohort.group.name in row.groups
            and slug in row.sets_aside
            and row.signed <= dose.day <= row.until
        )

    def holds_here(self, label: Label) -> bool:
        """Whether a label holds where the farm is: one of a country in its parts too, but Northern Ireland by name."""
        here, stated = self.settings.country, label.countries
        if stated is None or here in stated:
            return True
        return here != "GB-NIR" and here.partition("-")[0] in stated

    def uses(self) -> Iterable[tuple[Label, Use]]:
        """Every use of every label, labels and uses in order of id."""
        for _, label in sorted(self.farm.labels.items()):
            yield from ((label, use) for use in sorted(label.uses, key=lambda use: use.id))


def _differ_in_use_alone(farm: Farm, other: Farm) -> bool:
    """Whether two farms have all rows in common but those of what the keeper wishes and sells."""
    names = set(Farm.__struct_fields__) - {"wishes", "sales"}
    return all(getattr(farm, name) is getattr(other, name) for name in names)
