"""The season plan as every output shows it; the fields are those of plan.json."""

from datetime import date
from decimal import Decimal
from typing import Literal

from msgspec import Struct

from scheduler.plan.whys import Why
from scheduler.words import Kind, Severity, Target, Where

TaskKind = Literal["dose", "recheck", "clear", "prepare", "order", "sale", "season-opens"]
TaskStatus = Literal["planned", "done", "missed", "cancelled"]
State = Literal["away", "exposed", "low", "covered", "fading"]
ChoiceKind = Literal[
    "move-dose", "other-use", "split-group", "move-sale", "hold-back",
    "leave-exposed", "ask-vet", "confirm-label", "order-now", "record-it",
]  # fmt: skip
Decider = Literal["keeper", "vet", "adviser"]


class Because(Struct, frozen=True):
    """Why a task stands where it does: the rule, and a plain sentence with the figures.

    where: what it rests on, where it is known; plan.json does not hold it.
    """

    rule: str
    text: str
    where: Where | None = None


class Protects(Struct, frozen=True):
    """First and last day relied on, and the last day the label may still give; None where empty."""

    first: date | None
    last: date | None
    fades_until: date | None


class Clear(Struct, frozen=True):
    """The first day the sheep (meat, export), the milk or the shears (wool) may go; None where not meant."""

    meat: date | None
    milk: date | None
    export: date | None
    wool: date | None


class Task(Struct, frozen=True, kw_only=True):
    """One thing to do on one day. ml and kg exact; money in minor units; None where not meant."""

    uid: str
    sequence: int = 0
    kind: TaskKind
    day: date
    cohort: str | None = None
    group: str | None = None
    head: int | None = None
    label: str | None = None
    use: str | None = None
    targets: tuple[Target, ...] | None = None
    repeat_of: str | None = None
    dose_ml: Decimal | None = None
    task_ml: Decimal | None = None
    heaviest_kg: Decimal | None = None
    age_days: int | None = None
    protects: Protects | None = None
    clear: Clear | None = None
    money_minor: int | None = None
    text: str = ""
    because: tuple[Because, ...] = ()
    status: TaskStatus = "planned"


class CohortLine(Struct, frozen=True, kw_only=True):
    """A cohort as listed: the day it leaves and its sale, None for sheep that stay."""

    id: str
    group: str
    kind: Kind
    mob: str
    head: int
    leaves: date | None
    sale: str | None


class Run(Struct, frozen=True):
    """A maximal span of equal level and state of one cohort and target, both ends included."""

    cohort: str
    target: Target
    first: date
    last: date
    level: Decimal
    state: State


class ClashFact(Struct, frozen=True):
    """One of the facts that cannot stand together."""

    rule: str
    text: str
    where: Where


class Choice(Struct, frozen=True, kw_only=True):
    """A way out, with its change in exposed sheep-days, money and handlings against the plan, and who decides."""

    what: ChoiceKind
    text: str
    decides: Decider
    exposed_sheep_days: int
    money_minor: int
    handlings: int


class Conflict(Struct, frozen=True, kw_only=True):
    """A rule broken, or something that must be said; `group` joins names by "; " where a mob is meant."""

    rule: str
    severity: Severity
    cohort: str | None = None
    group: str | None = None
    day: date | None = None
    text: str
    where: Where | None = None
    clash: tuple[ClashFact, ...] = ()
    choices: tuple[Choice, ...] = ()


class PackCount(Struct, frozen=True):
    """So many packs of so many millilitres."""

    ml: Decimal
    count: int


class Shopping(Struct, frozen=True, kw_only=True):
    """What to buy of one label: ml of the planned doses, ml in stock that counts, whole packs, last day to order."""

    label: str
    ml: Decimal
    in_stock_ml: Decimal
    packs: tuple[PackCount, ...]
    money_minor: int
    order_by: date | None


class SourceLine(Struct, frozen=True):
    """A source named in the plan: its id in the facts, and its title, publisher and section."""

    id: str
    text: str


class GapLine(Struct, frozen=True):
    """How much better the optimum could at most be."""

    exposed_sheep_days: int
    money_minor: int | None


class Score(Struct, frozen=True):
    """The sums of the plan; money in minor units of `currency`."""

    exposed_sheep_days: int
    money_minor: int
    currency: str
    handlings: int
    gathers: int


class Plan(Struct, frozen=True, kw_only=True):
    """The season plan, complete. `gap` is None when the plan is proved. `notes` are sentences on what was left out.

    whys: of planned doses, as far as reckoned; like the notes they do not stand in plan.json.
    """

    made_for: date
    draft: bool
    farm_id: str
    farm_name: str
    country: str
    timezone: str
    start: date
    end: date
    gap: GapLine | None
    score: Score
    cohorts: tuple[CohortLine, ...]
    tasks: tuple[Task, ...]
    days: tuple[Run, ...]
    conflicts: tuple[Conflict, ...]
    shopping: tuple[Shopping, ...]
    sources: tuple[SourceLine, ...]
    notes: tuple[str, ...] = ()
    whys: tuple[Why, ...] = ()

    @property
    def status(self) -> Literal["proved", "best-found"]:
        """`proved` when exposure and money are proved least."""
        return "proved" if self.gap is None else "best-found"


class FrontierPlans(Struct, frozen=True):
    """Whole plans of which none has both less exposure and less money than another lawful plan, least exposed first.

    complete: no such pair of exposure and money is missing. unsearched: exposed sheep-days of neighbours between which
    more pairs may lie, because time ran out.
    """

    plans: tuple[Plan, ...]
    complete: bool
    unsearched: tuple[tuple[int, int], ...]
