"""From a farm to its season plan."""

from datetime import date

from msgspec import Struct, field

from scheduler import planner
from scheduler.farm import Farm
from scheduler.plan.choices import Choices
from scheduler.plan.clash import Clashes
from scheduler.plan.conflicts import audit, conflict_of, plan_breaches
from scheduler.plan.duties import all_gone
from scheduler.plan.earlier import EarlierPlan
from scheduler.plan.model import CohortLine, Conflict, FrontierPlans, GapLine, Plan, Run, Score
from scheduler.plan.placed import PlacedPlan
from scheduler.plan.reconcile import Reconciled, reconcile
from scheduler.plan.replans import Replans
from scheduler.plan.settle import Clock, Progress, Question, Settled, answer, question_of
from scheduler.plan.shopping import shopping_of
from scheduler.plan.sources import sources_of
from scheduler.plan.tasks import build_tasks
from scheduler.plan.trade import TooLittle, affordable, trades
from scheduler.plan.why import Explainer
from scheduler.rules import Breach, with_directions
from scheduler.season import Cohort, Doses, Season, all_runs, wished


def make_plan(
    farm: Farm,
    today: date,
    earlier: EarlierPlan | None,
    out_of_time: Clock,
    progress: Progress | None = None,
    out_of_time_for_choices: Clock | None = None,
) -> Plan:
    """The least-cost lawful plan of the farm from `today` on; best found where time runs out.

    earlier: the plan made before, whose uids and missed doses carry over. out_of_time_for_choices: a later end for
    pricing the choices, so that a plan proved just in time has them all. Raises PlanRefused on a mistake of ours.
    """
    return plan_to_explain(farm, today, earlier, out_of_time, progress, out_of_time_for_choices)[0]


def plan_to_explain(
    farm: Farm,
    today: date,
    earlier: EarlierPlan | None,
    out_of_time: Clock,
    progress: Progress | None = None,
    out_of_time_for_choices: Clock | None = None,
) -> tuple[Plan, Explainer]:
    """The same plan, with what explains its tasks."""
    desk = Desk.of(farm, today, earlier)
    settled = answer(desk.question, out_of_time, progress, memory=desk.memory)
    plan = desk.plan(settled, out_of_time_for_choices or out_of_time)
    return plan, Explainer(PlacedPlan(desk.question, settled), desk.memory)


def plan_within(
    farm: Farm, today: date, earlier: EarlierPlan | None, budget: int, out_of_time: Clock
) -> Plan | TooLittle:
    """The plan of least exposure, then money, that costs at most `budget`, in minor units.

    No choice of it that needs planning again is priced: the budget would have to be asked about too.
    """
    found = plan_within_to_explain(farm, today, earlier, budget, out_of_time)
    return found if isinstance(found, TooLittle) else found[0]


def plan_within_to_explain(
    farm: Farm, today: date, earlier: EarlierPlan | None, budget: int, out_of_time: Clock
) -> tuple[Plan, Explainer] | TooLittle:
    """The same plan, with what explains its tasks, all else as planned: nothing is planned again."""
    desk = Desk.of(farm, today, earlier)
    settled = affordable(desk.question, budget, out_of_time, desk.memory)
    if isinstance(settled, TooLittle):
        return settled
    return desk.plan(settled, _at_once), Explainer(PlacedPlan(desk.question, settled), desk.memory, is_least=False)


def frontier_plans(
    farm: Farm, today: date, earlier: EarlierPlan | None, out_of_time: Clock, memory: planner.Memory | None = None
) -> FrontierPlans:
    """Whole plans of undominated exposure and money, least exposed first; choices as in `plan_within`.

    memory: what was solved before for the same farm.
    """
    desk = Desk.of(farm, today, earlier, memory)
    found = trades(desk.question, out_of_time, desk.memory)
    plans = tuple(desk.plan(settled, _at_once) for settled in found.settled)
    return FrontierPlans(plans, found.complete, found.unsearched)


def _at_once() -> bool:
    """A clock that has run out."""
    return True


class Desk(Struct, frozen=True, dict=True):
    """A farm on the day of planning: its question, what is taken over from the earlier plan, and what was solved."""

    season: Season
    earlier: EarlierPlan | None
    reconciled: Reconciled
    question: Question
    memory: planner.Memory
    clashes: dict[tuple[object, ...], Clashes] = field(default_factory=dict)

    @classmethod
    def of(cls, farm: Farm, today: date, earlier: EarlierPlan | None, memory: planner.Memory | None = None) -> "Desk":
        """The farm made ready."""
        season = Season(farm, today)
        reconciled = reconcile(season, earlier)
        question = question_of(season, reconciled.missed, _open_days(reconciled))
        return cls(season, earlier, reconciled, question, memory or planner.Memory())

    def plan(self, settled: Settled, out_of_time: Clock) -> Plan:
        """The whole plan of these doses; choices are priced by planning again until time runs out."""
        season, settings = self.season, self.season.farm.settings
        said = plan_breaches(season, settled.doses, settled.said)
        missed, open_days = self.reconciled.missed, _open_days(self.reconciled)
        choices = Choices(Replans(self.question, settled, missed, open_days, out_of_time, self.memory), said)
        clashes = self._clashes_beside(settled.doses)
        conflicts = tuple(_conflict(breach, clashes, choices) for breach in said)
        tasks = build_tasks(season, settled.doses, self.reconciled, self.earlier)
        reasons = [because.rule for task in tasks for because in task.because]
        return Plan(
            made_for=season.made_for,
            draft=_is_draft(season, settled.doses),
            farm_id=settings.id,
            farm_name=settings.name,
            country=settings.country,
            timezone=settings.timezone,
            start=settings.start,
            end=settings.end,
            gap=None if settled.gap is None else GapLine(settled.gap.exposure, settled.gap.money),
            score=_score(season, settled),
            cohorts=tuple(_cohort_line(cohort) for cohort in season.cohorts),
            tasks=tasks,
            days=tuple(
                Run(run.cohort.id, run.target, run.span.first, run.span.last, run.level, run.state)
                for run in all_runs(season, settled.doses)
            ),
            conflicts=conflicts,
            shopping=shopping_of(season, settled.doses),
            sources=sources_of([*reasons, *(conflict.rule for conflict in conflicts)]),
            notes=(*season.farm.left_out, *season.level_notes),
        )

    def _clashes_beside(self, doses: Doses) -> Clashes:
        """The clashes beside what is given, shared by all plans in which that is the same."""
        given = tuple((dose.key, dose.first_day, dose.where) for dose in doses if dose.origin != "plan")
        if given not in self.clashes:
            self.clashes[given] = Clashes(self.season, doses)
        return self.clashes[given]


def _open_days(reconciled: Reconciled) -> dict[tuple[str, str, str], tuple[date, ...]]:
    """Days of the earlier plan's doses still open."""
    return {series: tuple(task.day for task in tasks) for series, tasks in reconciled.open.items()}


def audit_farm(farm: Farm, today: date, earlier: EarlierPlan | None) -> tuple[Conflict, ...]:
    """The audit of wishes and record, as they stand."""
    season = Season(farm, today)
    wishes = {wish: wished(farm, season.cohorts, wish) for wish in farm.wishes}
    gone = [all_gone(wish) for wish, doses in wishes.items() if not doses]
    doses = [*season.record, *reconcile(season, earlier).missed, *(dose for some in wishes.values() for dose in some)]
    return audit(season, with_directions(season, Doses(doses)), gone)


def _conflict(breach: Breach, clashes: Clashes, choices: Choices) -> Conflict:
    clash = clashes.of(breach.run) if breach.run is not None and breach.rule == "cover-gap" else ()
    return conflict_of(breach, clash, choices.of(breach, clash))


def _is_draft(season: Season, doses: Doses) -> bool:
    """Whether the label of a planned dose has no `checked`, or one after made_for."""
    checked = [dose.label.checked for dose in doses if dose.is_ours]
    return any(day is None or day > season.made_for for day in checked)


def _score(season: Season, settled: Settled) -> Score:
    sums = settled.sums
    return Score(
        exposed_sheep_days=sums.exposed_sheep_days,
        money_minor=sums.money_minor,
        currency=season.settings.currency,
        handlings=sums.handlings,
        gathers=sums.gathers,
    )


def _cohort_line(cohort: Cohort) -> CohortLine:
    sale = cohort.sale
    return CohortLine(
        id=cohort.id,
        group=cohort.group.name,
        kind=cohort.group.kind,
        mob=cohort.group.mob,
        head=cohort.head,
        leaves=cohort.leaves,
        sale=None if sale is None else sale.name,
    )
