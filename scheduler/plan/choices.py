"""Ways out of a conflict, each priced by planning the changed farm again. None is applied by itself."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import timedelta

from scheduler.farm import Farm, Sale
from scheduler.plan.model import Choice, ChoiceKind, Decider
from scheduler.plan.options import Options, reach
from scheduler.plan.replans import Replanned, Replans
from scheduler.plan.wish_ways import ways_of_wish
from scheduler.rules import RULES, Breach
from scheduler.season import Cohort, Run, Season
from scheduler.words import days_of, say_day, say_days

MOST_CHOICES = 5
"""Most ways out told of one conflict, the cheapest first."""

STOPS = frozenset(rule.slug for rule in RULES if rule.severity == "stop")
SET_ASIDE = frozenset(rule.slug for rule in RULES if rule.sets_aside)
"""Rules that a vet's written direction may set aside."""

AT_THE_SALE = frozenset(
    ("meat-withdrawal", "export-interval", "off-label-withdrawal", "organic-withdrawal", "repeat-before-sale")
)

WITHOUT_PLANNING: dict[str, tuple[ChoiceKind, str, Decider]] = {
    "unconfirmed-label": ("confirm-label", "compare the file with the leaflet and fill in `checked`", "keeper"),
    "countries-unstated": ("confirm-label", "write the countries of the leaflet into the file", "keeper"),
    "order-time": ("order-now", "order today, and ask whether it can come sooner", "keeper"),
    "stock-short": ("order-now", "order today, and ask whether it can come sooner", "keeper"),
    "record-complete": ("record-it", "write it in record.csv, given yes or no, and plan again", "keeper"),
    "infested-now": ("ask-vet", "have the vet look at them and say what to give", "vet"),
    "movement-stop": ("ask-vet", "ask the vet and the authority before any sheep leaves", "vet"),
    "organic-prevention": ("ask-vet", "have the vet's and the certifier's yes in writing", "vet"),
}
"""Ways out that leave the plan as it is: nothing is to be priced."""


@dataclass
class Choices:
    """Finds the choices of one plan. `seasons` keeps the changed farms, by their changed sale."""

    replans: Replans
    seasons: dict[tuple[Sale, Sale | None], Season] = field(default_factory=dict)

    @property
    def season(self) -> Season:
        """The season as it is."""
        return self.replans.season

    def of(self, breach: Breach) -> tuple[Choice, ...]:
        """The ways out of one breach, cheapest first: exposure, then money, then handlings."""
        found = list(self._found(breach))
        found.sort(key=lambda one: (one.exposed_sheep_days, one.money_minor, one.handlings, one.what))
        return tuple(found[:MOST_CHOICES])

    def _found(self, breach: Breach) -> Iterator[Choice]:
        if breach.rule in WITHOUT_PLANNING:
            yield _free(*WITHOUT_PLANNING[breach.rule])
        elif breach.rule == "cover-gap":
            yield _free("leave-exposed", "leave it so, and look the sheep over every day of it")
            yield from self._at_the_sale(breach)
        elif breach.dose is not None and breach.dose.origin == "wish" and breach.rule in STOPS:
            yield _free("leave-exposed", "leave the wished dose out, as this plan does")
            if breach.rule in SET_ASIDE:
                yield _free("ask-vet", "ask the vet, who may direct it in writing; without that it is not given", "vet")
            yield from ways_of_wish(self.replans, breach)
            if breach.rule in AT_THE_SALE:
                yield from self._at_the_sale(breach)
        elif breach.rule in AT_THE_SALE:
            yield from self._at_the_sale(breach)

    def _at_the_sale(self, breach: Breach) -> Iterator[Choice]:
        """Moving the sale later within move_days, and keeping the sheep."""
        cohort = next((one for one in self.season.cohorts if one.id == breach.cohort), None)
        sale = None if cohort is None else cohort.sale
        if sale is None or sale.day < self.season.made_for:
            return
        if not self._may_help(breach, sale, None):
            return
        if not sale.fixed and self._may_help(breach, sale, _later(sale, sale.move_days)):
            for days in range(1, sale.move_days + 1):
                moved = _later(sale, days)
                text = f"sell {sale.name} on {say_day(moved.day)}, {say_days(days)} later"
                priced = self._priced(breach, "move-sale", text, sale, moved)
                if priced is not None:
                    yield priced
                    break
        kept = self._priced(breach, "hold-back", f"keep the {sale.head} head of {sale.name} on the farm", sale, None)
        if kept is not None:
            yield kept

    def _may_help(self, breach: Breach, sale: Sale, changed: Sale | None) -> bool:
        """Whether the change leaves a lawful dose that covers a day of the gap: a cheap look before planning.

        The later a sale the less it forbids, and none forbids least: where that does not help, no move does.
        """
        if breach.run is None:
            return True
        if self.replans.out_of_time():
            return False
        season = self._season(sale, changed)
        return any(_covers(season, heir, breach.run) for heir in _heirs(season, breach.run.cohort))

    def _season(self, sale: Sale, changed: Sale | None) -> Season:
        if (sale, changed) not in self.seasons:
            rows = [changed if row is sale else row for row in self.season.farm.sales]
            farm = replace(self.season.farm, sales=tuple(row for row in rows if row is not None))
            self.seasons[sale, changed] = Season(farm, self.season.made_for)
        return self.seasons[sale, changed]

    def _priced(self, breach: Breach, what: ChoiceKind, text: str, sale: Sale, changed: Sale | None) -> Choice | None:
        """The choice with what it changes; None where it does not help, or no work is left to spend on it."""
        if changed is not None and _group_leaves_first(self.season.farm, changed):
            return None
        if not self._may_help(breach, sale, changed):
            return None
        again = self.replans.plan((sale, changed), self._season(sale, changed))
        return self.replans.choice(again, what, text) if again is not None and _clears(again, breach) else None


def _later(sale: Sale, days: int) -> Sale:
    return replace(sale, day=sale.day + timedelta(days=days))


def _free(what: ChoiceKind, text: str, decides: Decider = "keeper") -> Choice:
    return Choice(what=what, text=text, decides=decides, exposed_sheep_days=0, money_minor=0, handlings=0)


def _group_leaves_first(farm: Farm, sale: Sale) -> bool:
    leaves = farm.group(sale.group).leaves
    return leaves is not None and leaves < sale.day


def _heirs(season: Season, cohort: Cohort) -> list[Cohort]:
    """The cohort in the changed farm: itself, or those of its group that stay where its sheep are kept."""
    same = [one for one in season.cohorts if one.id == cohort.id]
    return same or [one for one in season.cohorts if one.id == f"{cohort.group.name}/stay"]


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


def _clears(again: Replanned, breach: Breach) -> bool:
    """Whether nothing is left of the breach: no gap on its days, or no stop at its row."""
    if breach.run is not None:
        heirs = {cohort.id for cohort in _heirs(again.season, breach.run.cohort)}
        return not any(
            other.run is not None
            and other.cohort in heirs
            and other.run.target == breach.run.target
            and other.run.span.first <= breach.run.span.last
            and other.run.span.last >= breach.run.span.first
            for other in again.breaches()
            if other.rule == breach.rule
        )
    place = None if breach.dose is None else breach.dose.where
    return not any(
        other.dose is not None and other.dose.where == place and other.group == breach.group
        for other in again.breaches()
        if other.rule in AT_THE_SALE
    )
