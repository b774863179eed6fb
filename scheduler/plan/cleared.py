"""Whether a changed farm, planned again, is free of a breach."""

from collections.abc import Sequence

from msgspec import Struct

from scheduler.plan.replans import Replanned
from scheduler.rules import Breach
from scheduler.season import Cohort, Season

AT_THE_SALE = frozenset(
    ("meat-withdrawal", "export-interval", "off-label-withdrawal", "organic-withdrawal", "repeat-before-sale")
)
"""Stop rules that ask whether sheep may be sold."""


class Cleared(Struct, frozen=True):
    """Compares with what the plan as it is must say."""

    said: Sequence[Breach]

    def __call__(self, again: Replanned, breach: Breach) -> bool:
        """Whether nothing is left of the breach: no gap on its days, no stop at its row, one such warning fewer."""
        if breach.run is not None:
            return not any(_meets(again, breach, other) for other in again.breaches(breach.rule))
        if breach.rule in AT_THE_SALE:
            return not any(
                breach.dose is not None and other.dose is not None and other.dose.where == breach.dose.where
                and other.group == breach.group and other.rule in AT_THE_SALE
                for other in again.stops
            )  # fmt: skip
        mine = _alike(again.breaches(breach.rule), breach)
        before = _alike(self.said, breach)
        return len(mine) < len(before) and all(other.day != breach.day or breach.day is None for other in mine)


def _alike(said: Sequence[Breach], breach: Breach) -> list[Breach]:
    """Breaches of the same rule by the same sheep; of a label, those of any label."""
    return [other for other in said if other.rule == breach.rule and other.cohort == breach.cohort]


def _meets(again: Replanned, breach: Breach, other: Breach) -> bool:
    """Whether a run of a changed farm has a day of the run of the breach."""
    if breach.run is None or other.run is None:
        return False
    return (
        other.cohort in {cohort.id for cohort in heirs(again.season, breach.run.cohort)}
        and other.run.target == breach.run.target
        and other.run.span.first <= breach.run.span.last
        and other.run.span.last >= breach.run.span.first
    )


def heirs(season: Season, cohort: Cohort) -> list[Cohort]:
    """The cohort in the changed farm: itself, or those of its group that stay where its sheep are kept."""
    same = [one for one in season.cohorts if one.id == cohort.id]
    return same or [one for one in season.cohorts if one.id == f"{cohort.group.name}/stay"]
