"""From lawful courses to the planner's whole numbers; names are kept here and never reach the planner."""

from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date, timedelta

from msgspec import Struct
from msgspec.structs import replace

from scheduler import planner
from scheduler.plan.apart import apart_masks
from scheduler.plan.duties import Duty
from scheduler.plan.options import caps_left
from scheduler.season import Cohort, Course, Dose, Season
from scheduler.verify import dose_money, gather_money, gather_of
from scheduler.words import Target, plus

Earlier = Mapping[tuple[str, str, str], tuple[date, ...]]
"""Days of the earlier plan's doses still open, by (cohort, label, use)."""


class Lot(Struct, frozen=True):
    """What one cohort may get: its fixed doses, its duties, and the courses free to choose."""

    cohort: Cohort
    fixed: tuple[Dose, ...]
    duties: tuple[Duty, ...]
    free: tuple[Course, ...]

    @property
    def courses(self) -> tuple[Course, ...]:
        """All courses in the planner's order: those of duties, then the free ones."""
        return (*(course for duty in self.duties for course in duty.courses), *self.free)


def new_doses(course: Course) -> tuple[Dose, ...]:
    """The doses of a course that are still to be given."""
    return tuple(dose for dose in course.doses if dose.is_ours)


class Known(Struct, frozen=True):
    """The planner's cohorts of another season, by name."""

    season: Season
    cohorts: Mapping[str, planner.Cohort]


class Numbering:
    """Numbers of gathers, series and doses: those of one cohort are the same whatever the others may get."""

    def __init__(self, season: Season) -> None:
        self.season = season
        groups = [group.name for group in season.farm.groups]
        self.mobs = sorted({season.presence.mob_of(group, day) for group in groups for day in season.span.days()})
        self._mob = {mob: number for number, mob in enumerate(self.mobs)}
        self._cohort = {name: number for number, name in enumerate(sorted(cohort.id for cohort in season.cohorts))}
        uses = sorted((label.id, use.id) for label, use in season.uses())
        self._use = {name: number for number, name in enumerate(uses)}
        self.money: dict[tuple[object, ...], int] = {}

    @property
    def names(self) -> tuple[list[str], list[str], list[tuple[str, str]], date, date]:
        """All that the numbers rest on."""
        return self.mobs, list(self._cohort), list(self._use), self.season.span.first, self.season.span.last

    def gather(self, dose: Dose) -> int:
        """Number of the gather that brings the cohort in on the day."""
        mob, day = gather_of(self.season, dose.cohort, dose.day)
        return self._mob[mob] * len(self.season.span) + (day - self.season.span.first).days

    def gathers(self, used: Collection[int]) -> Iterator[planner.Gather]:
        """What each gather costs, by number; one that nobody uses stands for nothing."""
        cost = {mob: gather_money(self.season, mob) for mob in self.mobs}
        for number in range(max(used, default=-1) + 1):
            mob, day = divmod(number, len(self.season.span))
            day_on = self.season.span.first + timedelta(days=day)
            if number not in used or self.season.presence.gather_event(self.mobs[mob], day_on) is not None:
                yield planner.Gather(cost=0, paid=False)
            else:
                yield planner.Gather(cost=cost[self.mobs[mob]], paid=True)

    def series(self, cohort: Cohort, courses: Sequence[Course]) -> list[tuple[str, str, str]]:
        """(cohort, label, use) of the courses, in order."""
        return sorted({(cohort.id, course.last.label.id, course.last.use.id) for course in courses})

    def earlier(self, lot: Lot, earlier: Earlier) -> tuple[tuple[int, ...], ...]:
        """Days of the earlier plan's doses, by series."""
        names = self.series(lot.cohort, lot.courses)
        return tuple(tuple(day.toordinal() for day in earlier.get(name, ())) for name in names)

    def dose(self, dose: Dose, series: Mapping[tuple[str, str, str], int]) -> planner.Dose:
        """One dose as the planner sees it."""
        return planner.Dose(
            day=dose.day.toordinal(),
            gather=self.gather(dose),
            series=series[(dose.cohort.id, dose.label.id, dose.use.id)],
            rank=self._rank(dose),
        )

    def _rank(self, dose: Dose) -> int:
        """Place of the dose in the order of (date, cohort, label, use)."""
        by_cohort = dose.day.toordinal() * len(self._cohort) + self._cohort[dose.cohort.id]
        return by_cohort * len(self._use) + self._use[(dose.label.id, dose.use.id)]

    def cost(self, dose: Dose) -> int:
        """Money of one dose, minor units."""
        ml = self.season.dose_ml(dose)
        key = (dose.cohort.id, dose.label.id, dose.use.id, ml)
        if key not in self.money:
            self.money[key] = dose_money(self.season, dose)
        return self.money[key]


def problem_of(
    season: Season, lots: Sequence[Lot], earlier: Earlier, needs: bool = True, known: Known | None = None
) -> planner.Problem:
    """The planner's question. needs False: only whether the duties can be met together.

    known: cohorts with numbers already, which stand where the names behind the numbers are the same.
    """
    numbering = Numbering(season)
    same = known.cohorts if known is not None and numbering.names == Numbering(known.season).names else {}
    cohorts = tuple(
        replace(same[lot.cohort.id], earlier=numbering.earlier(lot, earlier))
        if lot.cohort.id in same
        else _cohort(season, lot, numbering, earlier, needs)
        for lot in lots
    )
    used = {dose.gather for cohort in cohorts for course in cohort.courses for dose in course.doses}
    return planner.Problem(cohorts, tuple(numbering.gathers(used)), _capacity(season, lots))


def _capacity(season: Season, lots: Sequence[Lot]) -> planner.Capacity | None:
    most = season.settings.most_head_per_day
    if most == 0:
        return None
    taken = {(dose.day.toordinal(), number, lot.cohort.head)
             for number, lot in enumerate(lots) for dose in lot.fixed
             if dose.origin == "record" and dose.day >= season.first_day}  # fmt: skip
    return planner.Capacity(most, tuple(sorted(taken)))


def _cohort(season: Season, lot: Lot, numbering: Numbering, earlier: Earlier, needs: bool) -> planner.Cohort:
    courses = lot.courses
    series = {name: number for number, name in enumerate(numbering.series(lot.cohort, courses))}
    clauses = _Clauses(season, lot) if needs else None
    ends, start = [], 0
    for duty in lot.duties:
        ends.append(tuple(range(start, start + len(duty.courses))))
        start += len(duty.courses)
    return planner.Cohort(
        head=lot.cohort.head,
        courses=tuple(
            planner.Course(
                cost=sum(numbering.cost(dose) for dose in new_doses(course)),
                doses=tuple(numbering.dose(dose, series) for dose in new_doses(course)),
                clauses=() if clauses is None else clauses.met_by(course),
            )
            for course in courses
        ),
        needs=() if clauses is None else clauses.needs(),
        apart=apart_masks(season, lot.cohort, courses),
        counters=_counters(season, lot),
        duties=tuple(ends),
        earlier=numbering.earlier(lot, earlier),
    )


def _counters(season: Season, lot: Lot) -> tuple[planner.Counter, ...]:
    """One counter of the free courses for each key of a rule of count; what is fixed or a duty has taken its room."""
    firsts = [duty.courses[0].first for duty in lot.duties]
    taken = (*lot.fixed, *(first for first in firsts if first is not None and first.is_ours))
    left: dict[str, dict[str, int]] = {}
    listed: dict[str, list[tuple[int, int]]] = {}
    start = len(lot.courses) - len(lot.free)
    for number, course in enumerate(lot.free, start):
        label = course.last.label
        if label.id not in left:
            left[label.id] = caps_left(season, taken, label)
        for key, cap in left[label.id].items():
            listed.setdefault(key, []).append((number, cap))
    counters = []
    for _, pairs in sorted(listed.items()):
        numbers, caps = zip(*pairs, strict=True)
        if min(caps) < len(numbers):
            counters.append(planner.Counter(tuple(numbers), tuple(max(0, cap) for cap in caps)))
    return tuple(counters)


class _Clauses:
    """What a cohort's days ask for beyond its fixed doses: cover, and an end of what was found."""

    def __init__(self, season: Season, lot: Lot) -> None:
        self.season = season
        self.cohort = lot.cohort
        self._cover: dict[Target, _Numbered] = {target: _Numbered() for target in season.targets}
        self._cure: dict[Target, _Numbered] = {target: _Numbered() for target in season.targets}
        self._met: dict[tuple[int, date], tuple[int, ...]] = {}
        self._needs: list[planner.Need] = []
        self._count = 0
        for target in season.targets:
            for day in season.window.days():
                self._ask(target, day, lot.fixed)

    def _ask(self, target: Target, day: date, fixed: tuple[Dose, ...]) -> None:
        season, cohort = self.season, self.cohort
        if not season.is_here(cohort, day):
            return
        asked = []
        if season.findings.standing(cohort, target, day, fixed):
            asked.append(self._cure[target])
        if season.is_at_risk(cohort, target, day) and not self._is_covered(target, day, fixed):
            asked.append(self._cover[target])
        if asked:
            numbers = tuple(range(self._count, self._count + len(asked)))
            self._count += len(asked)
            for numbered, number in zip(asked, numbers, strict=True):
                numbered.add(day, number)
            self._needs.append(planner.Need(weight=cohort.head, clauses=numbers))

    def _is_covered(self, target: Target, day: date, fixed: tuple[Dose, ...]) -> bool:
        return any(
            dose.works and target in dose.use.targets
            and day in self.season.cover(self.cohort, dose.use, dose.day).cover
            for dose in fixed
        )  # fmt: skip

    def needs(self) -> tuple[planner.Need, ...]:
        """The needs, in order of target and day."""
        return tuple(self._needs)

    def met_by(self, course: Course) -> tuple[int, ...]:
        """Numbers of the clauses that the doses of a course meet."""
        doses = new_doses(course)
        if len(doses) == 1:
            return self._met_by_dose(doses[0])
        return tuple(sorted({number for dose in doses for number in self._met_by_dose(dose)}))

    def _met_by_dose(self, dose: Dose) -> tuple[int, ...]:
        key = (id(dose.use), dose.day)
        if key not in self._met:
            cover = self.season.cover(self.cohort, dose.use, dose.day).cover
            works = plus(dose.day, dose.use.works_after_days)
            met: list[int] = []
            for target in dose.use.targets:
                if target in self._cover:
                    met += self._cover[target].between(cover.first, cover.last)
                    if dose.use.purpose == "treat":
                        met += self._cure[target].between(works, date.max)
            self._met[key] = tuple(sorted(met))
        return self._met[key]


class _Numbered:
    """Clauses of one target in order of day."""

    def __init__(self) -> None:
        self._days: list[date] = []
        self._numbers: list[int] = []

    def add(self, day: date, number: int) -> None:
        """Adds the clause of a later day."""
        self._days.append(day)
        self._numbers.append(number)

    def between(self, first: date, last: date) -> list[int]:
        """Numbers of the clauses from first to last, both included."""
        return self._numbers[bisect_left(self._days, first) : bisect_right(self._days, last)]
