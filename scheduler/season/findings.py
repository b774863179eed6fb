"""Findings: on which days what was found on a cohort still stands."""

from collections.abc import Iterable
from datetime import date, timedelta
from functools import cache

from scheduler.farm import Farm, Finding
from scheduler.season.cohorts import WHOLE_MOB_TARGETS, Cohort, is_apart
from scheduler.season.doses import Dose
from scheduler.season.presence import Presence
from scheduler.words import Target


class Findings:
    """Findings by cohort and target."""

    def __init__(self, farm: Farm, presence: Presence) -> None:
        self._farm = farm
        self._presence = presence
        self._groups = {group.name: group for group in farm.groups}
        self.of = cache(self._of)

    def _of(self, cohort: Cohort, target: Target) -> tuple[Finding, ...]:
        """The findings of the target that concern the cohort, in the order of findings.csv."""
        return tuple(row for row in self._farm.findings if row.what == target and self._concerns(row, cohort))

    def _concerns(self, finding: Finding, cohort: Cohort) -> bool:
        if finding.what in WHOLE_MOB_TARGETS:
            mob = self._presence.mob_of(finding.group, finding.day)
            here = self._presence.on_farm(cohort, finding.day)
            return here and self._presence.mob_of(cohort.group.name, finding.day) == mob
        if finding.group != cohort.group.name:
            return False
        return cohort.finding is finding or not is_apart(finding, self._groups[finding.group])

    def standing(self, cohort: Cohort, target: Target, day: date, doses: Iterable[Dose]) -> tuple[Finding, ...]:
        """Findings that stand on the day: seen, not cleared, and not yet ended by a treat dose among `doses`."""
        found = self.of(cohort, target)
        if not found:
            return ()
        return tuple(
            row
            for row in found
            if row.day <= day
            and (row.cleared is None or day < row.cleared)
            and not any(ends(dose, row, target, day) for dose in doses)
        )


def ends(dose: Dose, finding: Finding, target: Target, day: date) -> bool:
    """Whether a dose to the same cohort has ended the finding by the day (works_after 0: on the day of the dose)."""
    return (
        dose.use.purpose == "treat"
        and target in dose.use.targets
        and dose.works
        and finding.day <= dose.day
        and dose.day + timedelta(days=dose.use.works_after_days) <= day
    )
