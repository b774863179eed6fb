"""Settles which doses are given: duties first, then the planner, and no plan leaves without the judge's agreement."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from scheduler import planner
from scheduler.plan.change import Change, change_between
from scheduler.plan.duties import Duties, Duty
from scheduler.plan.numbers import Earlier, Known, Lot, new_doses, problem_of
from scheduler.plan.options import Options
from scheduler.rules import Breach, with_directions
from scheduler.season import Cohort, Course, Dose, Doses, Season
from scheduler.verify import Sums, sums_of, unlawful

Cost = planner.Cost
Gap = planner.Gap

Progress = Callable[[planner.Cost, planner.Gap], None]
Clock = Callable[[], bool]


class PlanRefused(Exception):
    """The judge does not agree with the planner: a mistake of ours, never of the keeper's."""


class Settled(Struct, frozen=True):
    """All doses (recorded, missed, wished, planned), what was said of duties, the judge's sums, and the gap."""

    doses: Doses
    said: tuple[Breach, ...]
    sums: Sums
    gap: planner.Gap | None


class Question(Struct, frozen=True):
    """What is asked of the planner, and the names behind its numbers. fixed: doses recorded or missed."""

    season: Season
    fixed: Doses
    lots: tuple[Lot, ...]
    problem: planner.Problem
    said: tuple[Breach, ...]


def question_of(season: Season, missed: Sequence[Dose], earlier: Earlier, before: Question | None = None) -> Question:
    """The question of a season. before: one of a like season; what the change between them leaves alone is taken up."""
    fixed = with_directions(season, Doses([*season.record, *missed]))
    options = {cohort.id: Options(season, cohort, fixed.of(cohort)) for cohort in season.cohorts}
    duties = Duties(season, options, lambda taken: _fits(season, options, taken))
    duties.take_owed()
    duties.take_wishes()
    change = None if before is None else change_between(before.season, season)
    known = {} if before is None or change is None else _known(before, change, options)
    lots = tuple(
        Lot(
            cohort,
            options[cohort.id].fixed,
            tuple(duty for duty in duties.taken if duty.cohort is cohort),
            known[cohort.id].free if cohort.id in known else _by_first_day(options[cohort.id]),
        )
        for cohort in season.cohorts
    )
    numbers = {lot.cohort.id: known[lot.cohort.id].numbers for lot in lots if lot.cohort.id in known and not lot.duties}
    numbered = None if before is None else Known(before.season, {k: own for k, own in numbers.items() if own})
    return Question(season, fixed, lots, problem_of(season, lots, earlier, known=numbered), tuple(duties.said))


class _KnownLot(Struct, frozen=True):
    """The courses that may be chosen for a cohort, and the planner's cohort of them; None where duties were in it."""

    free: tuple[Course, ...]
    numbers: planner.Cohort | None


def _known(before: Question, change: Change, options: Mapping[str, Options]) -> dict[str, _KnownLot]:
    """The cohorts that a change leaves alone, by name, without doses on the days that it closes."""
    return {
        lot.cohort.id: _narrowed(lot, numbers, change.closed)
        for lot, numbers in zip(before.lots, before.problem.cohorts, strict=True)
        if lot.cohort.group.name not in change.groups and _is_same(lot, options.get(lot.cohort.id))
    }


def _is_same(lot: Lot, now: Options | None) -> bool:
    if now is None or _named(lot.cohort) != _named(now.cohort):
        return False
    return list(map(_given, lot.fixed)) == list(map(_given, now.fixed))


def _named(cohort: Cohort) -> tuple[object, ...]:
    """All that a cohort is."""
    return (cohort.id, cohort.group, cohort.head, cohort.sale, cohort.finding, cohort.source)


def _given(dose: Dose) -> tuple[object, ...]:
    """All that a dose of a known cohort is."""
    return (dose.key, dose.first_day, dose.origin, dose.whole, dose.where, dose.directions)


def _narrowed(lot: Lot, numbers: planner.Cohort, closed: frozenset[date]) -> _KnownLot:
    kept = [k for k, course in enumerate(lot.free) if not any(dose.day in closed for dose in new_doses(course))]
    free = lot.free if len(kept) == len(lot.free) else tuple(lot.free[k] for k in kept)
    if lot.duties:
        return _KnownLot(free, None)
    return _KnownLot(free, numbers if free is lot.free else planner.narrowed(numbers, kept))


def _by_first_day(options: Options) -> tuple[Course, ...]:
    return tuple(sorted(options.courses(), key=lambda course: course.doses[0].day))


def answer(
    question: Question,
    out_of_time: Clock,
    progress: Progress | None = None,
    ties: bool = True,
    memory: planner.Memory | None = None,
) -> Settled:
    """The doses of the least plan. Raises PlanRefused where the judge finds it unlawful or sums it up otherwise.

    ties: whether to decide between plans of equal cost, or to leave it where only the sums are wanted.
    memory: takes up what was solved with it before, and keeps what is solved now.
    """
    problem = question.problem
    for _ in range(MOST_ROUNDS):
        solved = planner.solve(problem, out_of_time, progress, ties, memory)
        if isinstance(solved, planner.Impossible):
            raise PlanRefused("the duties were taken one by one and do not stand together")
        settled = judged(question, solved)
        if isinstance(settled, Settled):
            return settled
        problem = never_again(question, problem, solved, settled)
    raise PlanRefused(f"still unlawful after {MOST_ROUNDS} rounds")


MOST_ROUNDS = 200
"""Rounds of solving again with a broken set of courses struck; only several findings at once ever need one."""


def judged(question: Question, solved: planner.Solved) -> Settled | list[Breach]:
    """The doses of a choice, or the stop rules that the judge sees broken by them."""
    doses = Doses([*question.fixed, *_chosen(question.lots, solved)])
    broken = unlawful(question.season, doses)
    if broken:
        return broken
    sums = sums_of(question.season, doses)
    _compare(sums, solved.cost)
    return Settled(doses, question.said, sums, solved.gap)


def _fits(season: Season, options: dict[str, Options], taken: Sequence[Duty]) -> bool:
    """Whether the duties can all be met together."""
    if len(taken) == 1 and season.settings.most_head_per_day == 0:
        return True
    lots = [Lot(option.cohort, option.fixed, tuple(duty for duty in taken if duty.cohort is option.cohort), ())
            for option in options.values()]  # fmt: skip
    question = problem_of(season, lots, {}, needs=False)
    return isinstance(planner.solve(question, lambda: False), planner.Solved)


def _chosen(lots: Sequence[Lot], solved: planner.Solved) -> Iterator[Dose]:
    """The doses chosen; courses taken up from another season are those of the cohort of this one."""
    for lot, numbers in zip(lots, solved.chosen, strict=True):
        for number in numbers:
            for dose in new_doses(lot.courses[number]):
                yield dose if dose.cohort is lot.cohort else replace(dose, cohort=lot.cohort)


def _compare(sums: Sums, cost: planner.Cost) -> None:
    """The planner's cost must be the judge's."""
    theirs = (sums.exposed_sheep_days, sums.money_minor, sums.paid_gathers, sums.handlings)
    ours = (cost.exposure, cost.money, cost.paid_gathers, cost.handlings)
    if theirs != ours:
        raise PlanRefused(f"the judge counts {theirs}, the planner {ours}")


def never_again(
    question: Question, problem: planner.Problem, solved: planner.Solved, broken: list[Breach]
) -> planner.Problem:
    """The same question with each broken set of courses struck; raises where a rule of pairs should have done it."""
    cohorts = list(problem.cohorts)
    for number, lot in enumerate(question.lots):
        if not any(breach.cohort == lot.cohort.id and breach.rule in RESTS_ON_FINDINGS for breach in broken):
            continue
        chosen = solved.chosen[number]
        counter = planner.Counter(chosen, tuple(len(chosen) - 1 for _ in chosen))
        cohorts[number] = replace(cohorts[number], counters=(*cohorts[number].counters, counter))
    if tuple(cohorts) == problem.cohorts:
        raise PlanRefused(
            "; ".join(f"{breach.rule}: {breach.cohort}, {breach.day}, {breach.text}" for breach in broken)
        )
    return replace(problem, cohorts=tuple(cohorts))


RESTS_ON_FINDINGS = frozenset(("use-on-label", "too-early"))
"""Rules by which a dose may stand only while a finding stands: several other doses together can end it."""
