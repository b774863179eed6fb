"""Changed farms planned again, so that a way out has its price. What a change leaves alone is taken up, not solved."""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field, replace

from scheduler import planner
from scheduler.plan.conflicts import plan_breaches
from scheduler.plan.model import Choice, ChoiceKind
from scheduler.plan.numbers import Earlier
from scheduler.plan.settle import Clock, Question, Settled, answer, question_of
from scheduler.rules import Breach
from scheduler.season import Dose, Season

MOST_REPLANS = 12
"""Most changed farms planned for the choices of one plan: a bound on work, the same on every machine."""


@dataclass(frozen=True, slots=True)
class Replanned:
    """A changed farm, planned."""

    season: Season
    settled: Settled

    def breaches(self) -> list[Breach]:
        """What its plan must say."""
        return plan_breaches(self.season, self.settled.doses, self.settled.said)


@dataclass
class Replans:
    """Plans changed farms beside the plan as it is; `planned` keeps what each change came to."""

    question: Question
    settled: Settled
    missed: Sequence[Dose]
    earlier: Earlier
    out_of_time: Clock
    memory: planner.Memory
    planned: dict[Hashable, Replanned | None] = field(default_factory=dict)

    @property
    def season(self) -> Season:
        """The season as it is."""
        return self.question.season

    def plan(self, change: Hashable, season: Season) -> Replanned | None:
        """The changed season planned; None where no work is left to spend on it."""
        if change not in self.planned and len(self.planned) < MOST_REPLANS and not self.out_of_time():
            ids = {cohort.id: cohort for cohort in season.cohorts}
            missed = [replace(dose, cohort=ids[dose.cohort.id]) for dose in self.missed if dose.cohort.id in ids]
            question = question_of(season, missed, self.earlier, self.question)
            settled = answer(question, self.out_of_time, ties=False, memory=self.memory)
            self.planned[change] = None if settled.gap is not None else Replanned(season, settled)
        return self.planned.get(change)

    def choice(self, again: Replanned, what: ChoiceKind, text: str) -> Choice:
        """The keeper's choice, with what it changes."""
        new, old = again.settled.sums, self.settled.sums
        return Choice(
            what=what,
            text=text,
            decides="keeper",
            exposed_sheep_days=new.exposed_sheep_days - old.exposed_sheep_days,
            money_minor=new.money_minor - old.money_minor,
            handlings=new.handlings - old.handlings,
        )
