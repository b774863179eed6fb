"""Ways out at a sale: to sell later, within the days that the keeper allows or beyond them, or to keep the sheep."""

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import islice

from msgspec import Struct, field
from msgspec.structs import replace

from scheduler.farm import Farm, Sale
from scheduler.plan.cleared import AT_THE_SALE, Cleared, heirs
from scheduler.plan.model import Choice, ChoiceKind
from scheduler.plan.options import Options, reach
from scheduler.plan.replans import Replans
from scheduler.rules import RULES, Breach, rule_breaches
from scheduler.season import Cohort, Dose, Doses, Run, Season
from scheduler.words import days_of, plus, say_day, say_days

FARTHEST_BEYOND = 28
"""Days beyond `move_days` up to which a later sale is looked for: our own measure, no source."""
TRIES = 3
"""Farms planned to find a later day."""

JUDGES = tuple(rule for rule in RULES if rule.slug in AT_THE_SALE or rule.slug == "sale-declaration")


class SaleWays(Struct, dict=True):
    """The ways out at sales of one plan.

    seasons: the changed farms, by their changed sale. cures: the doses with those that might clear scab.
    """

    replans: Replans
    cleared: Cleared
    seasons: dict[tuple[Sale, Sale | None], Season] = field(default_factory=dict)
    cures: dict[Sale, list[Dose]] = field(default_factory=dict)

    def of(self, breach: Breach) -> Iterator[Choice]:
        """The first later day that clears the breach, and keeping the sheep, each with its price.

        Sheep that may go with a declaration are not kept for want of one.
        """
        season = self.replans.season
        cohort = next((one for one in season.cohorts if one.id == breach.cohort), None)
        sale = None if cohort is None else cohort.sale
        if sale is None or sale.day < season.made_for or not self._may_help(breach, sale, None):
            return
        if not sale.fixed:
            yield from self._later(breach, sale)
        text = f"keep the {sale.head} head of {sale.name} on the farm{_also(season.farm, sale)}"
        if breach.rule != "sale-declaration" and _are_known(self._season(sale, None)):
            yield from self._priced(breach, "hold-back", text, sale, None)

    def _later(self, breach: Breach, sale: Sale) -> Iterator[Choice]:
        most = sale.move_days + FARTHEST_BEYOND
        if not self._may_help(breach, sale, _moved(sale, most)):
            return
        found = (days for days in range(1, most + 1) if self._may_help(breach, sale, _moved(sale, days)))
        for days in islice(found, TRIES):
            moved = _moved(sale, days)
            beyond = ", beyond the days you allowed" if days > sale.move_days else ""
            agreed = ", once the vet and the authority agree" if breach.rule == "movement-stop" else ""
            text = f"sell {sale.name} on {say_day(moved.day)}, {say_days(days)} later{beyond}{agreed}"
            priced = list(self._priced(breach, "move-sale", text, sale, moved))
            if priced:
                yield from priced
                return

    def _may_help(self, breach: Breach, sale: Sale, changed: Sale | None) -> bool:
        """Whether the change leaves a lawful dose that covers a day of the gap, the dose judged in order, or no scab.

        A cheap look before planning. The later a sale the less it forbids, and none forbids least: where that does not
        help, no move does.
        """
        if self.replans.out_of_time():
            return False
        season = self._season(sale, changed)
        if breach.rule == "movement-stop":
            return changed is None or not _still_scabby(season, self._with_cures(sale), changed)
        if breach.run is not None:
            return any(_covers(season, heir, breach.run) for heir in heirs(season, breach.run.cohort))
        return breach.dose is None or not _still_barred(season, breach.dose)

    def _with_cures(self, sale: Sale) -> list[Dose]:
        """The doses as planned, and the treatments that would first rid each cohort of scab if the sale waited."""
        if sale not in self.cures:
            season = self._season(sale, _moved(sale, sale.move_days + FARTHEST_BEYOND))
            soonest = (_soonest_cure(season, cohort, sale.day) for cohort in season.cohorts)
            self.cures[sale] = [*self.replans.settled.doses, *(dose for dose in soonest if dose is not None)]
        return self.cures[sale]

    def _season(self, sale: Sale, changed: Sale | None) -> Season:
        if (sale, changed) not in self.seasons:
            farm = self.replans.season.farm
            if changed is None:
                farm = _kept(farm, sale)
            else:
                farm = replace(farm, sales=tuple(changed if row is sale else row for row in farm.sales))
            self.seasons[sale, changed] = self.replans.on(farm)
        return self.seasons[sale, changed]

    def _priced(
        self, breach: Breach, what: ChoiceKind, text: str, sale: Sale, changed: Sale | None
    ) -> Iterator[Choice]:
        """The choice with what it changes; none where it does not help, or no work is left to spend on it."""
        if changed is not None and _group_leaves_first(self.replans.season.farm, changed):
            return
        again = self.replans.plan((sale, changed), self._season(sale, changed))
        choice = None if again is None else self.replans.choice(again, what, text)
        if again is not None and choice is not None and self.cleared(again, breach):
            needs_leave = breach.rule == "movement-stop" and changed is not None
            yield replace(choice, decides="vet") if needs_leave else choice


def _kept(farm: Farm, sale: Sale) -> Farm:
    """The farm without the sale: rows of the record that name its sheep name those that stay, wishes for them go."""
    stay, sold = f"{sale.group}/stay", _named(sale)
    return replace(
        farm,
        sales=tuple(row for row in farm.sales if row is not sale),
        record=tuple(replace(row, cohort=stay) if row.cohort == sold else row for row in farm.record),
        wishes=tuple(row for row in farm.wishes if row.cohort != sold),
    )


def _named(sale: Sale) -> str:
    """The cohort that a sale makes."""
    return f"{sale.group}/{sale.name}"


def _also(farm: Farm, sale: Sale) -> str:
    """What else the keeper then changes."""
    sold = _named(sale)
    wishes = "; the wishes for them are taken out" if any(row.cohort == sold for row in farm.wishes) else ""
    stay = f"; record.csv then names {sale.group}/stay" if any(row.cohort == sold for row in farm.record) else ""
    return wishes + stay


def _are_known(season: Season) -> bool:
    """Whether all sheep that rows of wishes and record name are still there by that name."""
    ids = {cohort.id for cohort in season.cohorts}
    named = {*(row.cohort for row in season.farm.wishes), *(row.cohort for row in season.farm.record)}
    return named <= {None, *ids}


def _moved(sale: Sale, days: int) -> Sale:
    return replace(sale, day=plus(sale.day, days))


def _group_leaves_first(farm: Farm, sale: Sale) -> bool:
    leaves = farm.group(sale.group).leaves
    return leaves is not None and leaves < sale.day


def _still_barred(season: Season, dose: Dose) -> bool:
    """Whether the dose judged, alone, still meets the sale of its sheep inside its withdrawal."""
    of = heirs(season, dose.cohort)
    doses = [replace(dose, cohort=heir) for heir in of]
    return any(True for rule in JUDGES for _ in rule_breaches(season, Doses(doses), rule))


def _still_scabby(season: Season, doses: Sequence[Dose], sale: Sale) -> bool:
    """Whether by these doses scab stands on the farm when the changed sale goes."""
    ids = {cohort.id: cohort for cohort in season.cohorts}
    same = Doses([replace(dose, cohort=ids[dose.cohort.id]) for dose in doses if dose.cohort.id in ids])
    rules = [rule for rule in RULES if rule.slug == "movement-stop"]
    return any(breach.where == sale.where for rule in rules for breach in rule_breaches(season, same, rule))


def _soonest_cure(season: Season, cohort: Cohort, until: date) -> Dose | None:
    """The lawful treatment of scab that works first, of those given by `until`."""
    options = Options(season, cohort, season.record.of(cohort))
    found = (
        course.doses[0]
        for label, use in season.uses()
        if use.purpose == "treat" and "scab" in use.targets
        for day in days_of(season.first_day, until)
        for course in options.courses_on(label, use, day)
    )
    return min(found, key=lambda dose: plus(dose.day, dose.use.works_after_days), default=None)


def _covers(season: Season, cohort: Cohort, run: Run) -> bool:
    """Whether a lawful course covers a day of the run."""
    options = Options(season, cohort, season.record.of(cohort))
    return any(
        any(day in season.cover(cohort, dose.use, dose.day).cover for day in run.span.days())
        for label, use in season.uses()
        if run.target in use.targets
        for day in days_of(max(season.first_day, run.span.first - reach(use)), run.span.last)
        for course in options.courses_on(label, use, day)
        for dose in course.doses
    )
