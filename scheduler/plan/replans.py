"""Changed farms planned again, so that a way out has its price. What a change leaves alone is taken up, not solved."""

from collections.abc import Hashable, Iterable, Sequence
from functools import cached_property

from msgspec import Struct, field
from msgspec.structs import replace

from scheduler import planner
from scheduler.farm import Farm, Wish
from scheduler.plan.conflicts import SAID, plan_breaches
from scheduler.plan.model import Choice, ChoiceKind
from scheduler.plan.numbers import Earlier
from scheduler.plan.settle import Clock, Question, Settled, answer, question_of
from scheduler.rules import RULES, Breach
from scheduler.season import Dose, Season
from scheduler.words import Where

MOST_REPLANS, MOST_COHORTS = 5, 8
"""Most changed farms planned for the choices of one plan, none once so many cohorts in all were planned anew: bounds on
work, the same on every machine."""

STOPS = frozenset(rule.slug for rule in RULES if rule.severity == "stop")


class Replanned(Struct, frozen=True, dict=True):
    """A changed farm, planned."""

    season: Season
    settled: Settled

    def breaches(self, slug: str) -> list[Breach]:
        """What its plan must say by one rule."""
        rules = [rule for rule in SAID if rule.slug == slug]
        said = plan_breaches(self.season, self.settled.doses, self.settled.said, rules) if rules else self.stops
        return [breach for breach in said if breach.rule == slug]

    @cached_property
    def stops(self) -> list[Breach]:
        """The stop rules that it still breaks."""
        said = plan_breaches(self.season, self.settled.doses, self.settled.said, ())
        return [breach for breach in said if breach.rule in STOPS]


class Replans(Struct, dict=True):
    """Plans changed farms beside the plan as it is; `planned` keeps what each change came to."""

    question: Question
    settled: Settled
    missed: Sequence[Dose]
    earlier: Earlier
    out_of_time: Clock
    memory: planner.Memory
    planned: dict[Hashable, Replanned | None] = field(default_factory=dict)
    cohorts_planned: int = 0

    @property
    def season(self) -> Season:
        """The season as it is."""
        return self.question.season

    @cached_property
    def stops(self) -> frozenset[tuple[str, Where | None]]:
        """The stop rules that the plan as it is must tell of, each with its row."""
        return frozenset(_places(Replanned(self.season, self.settled).stops))

    def plan(self, change: Hashable, season: Season) -> Replanned | None:
        """The changed season planned; None where no work is left to spend on it."""
        may = len(self.planned) < MOST_REPLANS and self.cohorts_planned < MOST_COHORTS
        if change not in self.planned and may and not self.out_of_time():
            ids = {cohort.id: cohort for cohort in season.cohorts}
            missed = [replace(dose, cohort=ids[dose.cohort.id]) for dose in self.missed if dose.cohort.id in ids]
            question = question_of(season, missed, self.earlier, self.question)
            before = len(self.memory.cohorts)
            settled = answer(question, self.out_of_time, ties=False, memory=self.memory)
            self.cohorts_planned += len(self.memory.cohorts) - before
            self.planned[change] = None if settled.gap is not None else Replanned(season, settled)
        return self.planned.get(change)

    def with_wishes(self, wishes: Sequence[Wish]) -> Replanned | None:
        """The farm planned with these wishes."""
        farm = replace(self.season.farm, wishes=tuple(wishes))
        return self.plan(tuple(wishes), self.on(farm))

    def on(self, farm: Farm) -> Season:
        """The season of a changed farm, on the same day."""
        return Season(farm, self.season.made_for, before=self.season)

    def choice(self, again: Replanned, what: ChoiceKind, text: str) -> Choice | None:
        """The keeper's choice, with what it changes; None where another stop rule would then be broken."""
        if not self.stops.issuperset(_places(again.stops)):
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


def _places(stops: Iterable[Breach]) -> Iterable[tuple[str, Where | None]]:
    """Rule and row of each; the cohorts of a changed farm have other names."""
    return ((breach.rule, breach.where if breach.dose is None else breach.dose.where) for breach in stops)
