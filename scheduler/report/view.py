"""The farm's season as every output shows it: the plan, and the scenery around it. Nothing here computes a plan."""

from datetime import date
from decimal import Decimal
from functools import cached_property

from msgspec import Struct

from scheduler.labels import Days, DoseStep, Lot
from scheduler.plan import CohortLine, Move, Plan, Task, Why, YearPlan
from scheduler.report.last_days import SaleDays
from scheduler.report.risk_view import RiskReport
from scheduler.report.trade_view import Trade
from scheduler.words import EventKind, Form, Purpose, Span, Target


class EventLine(Struct, frozen=True, kw_only=True):
    """Something that happens to `groups` from `first` to `last`, both included."""

    what: EventKind
    first: date
    last: date
    groups: tuple[str, ...]
    note: str = ""


class SaleLine(Struct, frozen=True, kw_only=True):
    """`head` sheep of `group` leave on `day`."""

    name: str
    group: str
    head: int
    day: date
    purpose: Purpose


class Gather(Struct, frozen=True, kw_only=True):
    """One mob brought in on one day for planned doses. `event` brings it in anyway; None: a gather of its own."""

    mob: str
    day: date
    cohorts: tuple[str, ...]
    event: EventKind | None


class UseLine(Struct, frozen=True, kw_only=True):
    """One way of using a label: how it is done, the dry hours before and after, and its table of weight to ml."""

    id: str
    targets: tuple[Target, ...]
    method: str = ""
    dry_hours_before: Decimal | None = None
    dry_hours_after: Decimal | None = None
    doses: tuple[DoseStep, ...] = ()


class LabelLine(Struct, frozen=True, kw_only=True):
    """A label that the plan uses. `confirmed`: compared with the leaflet by the day of the plan. Periods in days."""

    id: str
    name: str
    active: str
    chemical_group: str
    form: Form
    confirmed: bool
    checked: date | None = None
    edition: str = ""
    prescription: bool = False
    meat: Days = None
    milk: Days = None
    export: Days = None
    wool: int | None = None
    handling_days: int = 0
    uses: tuple[UseLine, ...] = ()

    def use(self, use_id: str | None) -> UseLine | None:
        """The use with this id, or None."""
        return next((use for use in self.uses if use.id == use_id), None)


class Parting(Struct, frozen=True):
    """How the sheep of a planned dose (its task's uid) part into lots of one dose each, light first, with their head.

    Head as if the weights were spread evenly from the lightest to the heaviest.
    """

    uid: str
    lots: tuple[tuple[Lot, int], ...]


class SeasonReport(Struct, frozen=True, kw_only=True, dict=True):
    """What the outputs are made from.

    exponent: digits of the currency's minor unit. closed: closed days in the season, as spans. act_levels: level
    from which a target is at risk, in the plan's order of targets. labels: those of the plan's tasks and shopping.
    remind: RFC 5545 durations before local midnight of a task's day. cautions: whole sentences. last_days: sales to
    come, with the last day of use of every label of the farm. partings: of planned doses whose sheep are too uneven for
    one dose. trade: the frontier, where it was asked for. most_minor: the budget, where one was given. risk: of the
    farm's own targets. years: the plan and others in past years, where asked for. moves: by this year's
    weather; None where they could not be reckoned in time.
    """

    plan: Plan
    exponent: int
    holding: str = ""
    organic: bool = False
    events: tuple[EventLine, ...] = ()
    sales: tuple[SaleLine, ...] = ()
    closed: tuple[Span, ...] = ()
    gathers: tuple[Gather, ...] = ()
    labels: tuple[LabelLine, ...] = ()
    act_levels: tuple[tuple[Target, Decimal], ...] = ()
    remind: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    last_days: tuple[SaleDays, ...] = ()
    partings: tuple[Parting, ...] = ()
    trade: Trade | None = None
    most_minor: int | None = None
    risk: RiskReport | None = None
    years: tuple[YearPlan, ...] = ()
    moves: tuple[Move, ...] | None = ()

    @cached_property
    def _whys(self) -> dict[str, Why]:
        """Whys by uid: they are asked for task by task."""
        return {why.uid: why for why in self.plan.whys}

    def label(self, label_id: str | None) -> LabelLine | None:
        """The label with this id; None where the farm no longer has it."""
        return next((label for label in self.labels if label.id == label_id), None)

    def cohort(self, cohort_id: str | None) -> CohortLine | None:
        """The cohort with this id; None where the plan no longer has it."""
        return next((cohort for cohort in self.plan.cohorts if cohort.id == cohort_id), None)

    def cohorts_of(self, group: str | None) -> tuple[CohortLine, ...]:
        """The cohorts of a group, in the plan's order."""
        return tuple(cohort for cohort in self.plan.cohorts if cohort.group == group)

    def gather(self, task: Task) -> Gather | None:
        """The gather that brings in a planned dose's cohort on its day."""
        return next((g for g in self.gathers if g.day == task.day and task.cohort in g.cohorts), None)

    def why(self, uid: str) -> Why | None:
        """Why the task of this uid stands where it does, as far as it was reckoned."""
        return self._whys.get(uid)
