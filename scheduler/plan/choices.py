"""Ways out of a conflict, each priced by planning the changed farm again. None is applied by itself."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import timedelta

from scheduler import planner
from scheduler.facts import facts
from scheduler.farm import Farm, Sale
from scheduler.labels import Use
from scheduler.plan.conflicts import plan_breaches
from scheduler.plan.model import Choice, ChoiceKind, Decider
from scheduler.plan.numbers import Earlier
from scheduler.plan.options import Options
from scheduler.plan.settle import Clock, Question, Settled, answer, question_of
from scheduler.rules import Breach
from scheduler.season import Cohort, Dose, Run, Season
from scheduler.words import days_of, say_day, say_days

MOST_REPLANS = 8
"""Most changed farms planned for the choices of one plan: a bound on work, the same on every machine."""

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


@dataclass(frozen=True, slots=True)
class Replanned:
    """A changed farm, planned."""

    season: Season
    settled: Settled

    def breaches(self) -> list[Breach]:
        """What its plan must say."""
        return plan_breaches(self.season, self.settled.doses, self.settled.said)


@dataclass
class Choices:
    """Finds the choices of one plan. `seasons` and `planned` keep the changed farms, by their changed sale."""

    question: Question
    settled: Settled
    missed: Sequence[Dose]
    earlier: Earlier
    out_of_time: Clock
    memory: planner.Memory
    planned: dict[tuple[Sale, Sale | None], Replanned | None] = field(default_factory=dict)
    seasons: dict[tuple[Sale, Sale | None], Season] = field(default_factory=dict)

    @property
    def season(self) -> Season:
        """The season as it is."""
        return self.question.season

    def of(self, breach: Breach) -> tuple[Choice, ...]:
        """The ways out of one breach, cheapest first: exposure, then money, then handlings."""
        found = list(self._found(breach))
        return tuple(sorted(found, key=lambda one: (one.exposed_sheep_days, one.money_minor, one.handlings, one.what)))

    def _found(self, breach: Breach) -> Iterator[Choice]:
        if breach.rule in WITHOUT_PLANNING:
            yield _free(*WITHOUT_PLANNING[breach.rule])
        elif breach.rule == "cover-gap":
            yield _free("leave-exposed", "leave it so, and look the sheep over every day of it")
            yield from self._at_the_sale(breach)
        elif breach.rule in AT_THE_SALE:
            if breach.dose is not None and breach.dose.origin == "wish":
                yield _free("leave-exposed", "leave the wished dose out, as this plan does")
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
        if self.out_of_time():
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
        again = self._planned(sale, changed) if self._may_help(breach, sale, changed) else None
        if again is None or not _clears(again, breach):
            return None
        new, old = again.settled.sums, self.settled.sums
        return Choice(
            what=what,
            text=text,
            decides="keeper",
            exposed_sheep_days=new.exposed_sheep_days - old.exposed_sheep_days,
            money_minor=new.money_minor - old.money_minor,
            handlings=new.handlings - old.handlings,
        )

    def _planned(self, sale: Sale, changed: Sale | None) -> Replanned | None:
        key = (sale, changed)
        if key not in self.planned and len(self.planned) < MOST_REPLANS and not self.out_of_time():
            season = self._season(sale, changed)
            ids = {cohort.id: cohort for cohort in season.cohorts}
            missed = [replace(dose, cohort=ids[dose.cohort.id]) for dose in self.missed if dose.cohort.id in ids]
            question = question_of(season, missed, self.earlier, (self.question, sale.group))
            settled = answer(question, self.out_of_time, ties=False, memory=self.memory)
            self.planned[key] = None if settled.gap is not None else Replanned(season, settled)
        return self.planned.get(key)


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
        for day in days_of(max(season.first_day, run.span.first - _reach(use)), run.span.last)
        for course in options.courses_on(label, use, day)
        for dose in course.doses
    )


def _reach(use: Use) -> timedelta:
    """From a first dose to the last day that it or its repeat could cover."""
    repeats = [repeat.after_days for repeat in use.repeats]
    slack = facts().figures.repeat_slack_days.whole
    return timedelta(days=max(use.protects_days) + max(repeats, default=0) + slack)


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
