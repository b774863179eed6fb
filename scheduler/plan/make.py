"""From a farm to its season plan."""

from datetime import date

from scheduler import planner
from scheduler.farm import Farm
from scheduler.plan.choices import Choices
from scheduler.plan.clash import clash_of
from scheduler.plan.conflicts import audit, conflict_of, plan_breaches
from scheduler.plan.duties import all_gone
from scheduler.plan.earlier import EarlierPlan
from scheduler.plan.model import ClashFact, CohortLine, Conflict, GapLine, Plan, Run, Score
from scheduler.plan.placed import PlacedPlan
from scheduler.plan.reconcile import reconcile
from scheduler.plan.settle import Clock, Progress, Settled, answer, question_of
from scheduler.plan.shopping import shopping_of
from scheduler.plan.sources import sources_of
from scheduler.plan.tasks import build_tasks
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
    season = Season(farm, today)
    reconciled = reconcile(season, earlier)
    open_days = {series: tuple(task.day for task in tasks) for series, tasks in reconciled.open.items()}
    question, memory = question_of(season, reconciled.missed, open_days), planner.Memory()
    settled = answer(question, out_of_time, progress, memory=memory)
    later = out_of_time_for_choices or out_of_time
    choices = Choices(question, settled, reconciled.missed, open_days, later, memory)
    conflicts = tuple(
        conflict_of(breach, _clash(season, settled.doses, breach), choices.of(breach))
        for breach in plan_breaches(season, settled.doses, settled.said)
    )
    tasks = build_tasks(season, settled.doses, reconciled, earlier)
    reasons = [because.rule for task in tasks for because in task.because]
    plan = Plan(
        made_for=today,
        draft=_is_draft(season, settled.doses),
        farm_id=farm.settings.id,
        farm_name=farm.settings.name,
        country=farm.settings.country,
        timezone=farm.settings.timezone,
        start=farm.settings.start,
        end=farm.settings.end,
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
        notes=(*farm.left_out, *season.level_notes),
    )
    return plan, Explainer(PlacedPlan(question, settled), memory)


def audit_farm(farm: Farm, today: date, earlier: EarlierPlan | None) -> tuple[Conflict, ...]:
    """The audit of wishes and record, as they stand."""
    season = Season(farm, today)
    wishes = {wish: wished(farm, season.cohorts, wish) for wish in farm.wishes}
    gone = [all_gone(wish) for wish, doses in wishes.items() if not doses]
    doses = [*season.record, *reconcile(season, earlier).missed, *(dose for some in wishes.values() for dose in some)]
    return audit(season, with_directions(season, Doses(doses)), gone)


def _clash(season: Season, doses: Doses, breach: Breach) -> tuple[ClashFact, ...]:
    return clash_of(season, breach.run, doses) if breach.run is not None and breach.rule == "cover-gap" else ()


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
