"""A plan under the weather of past years, beside plans made on an early, a middle and a late year."""

from collections.abc import Iterable, Sequence
from datetime import date
from typing import TYPE_CHECKING, Literal

from msgspec import Struct

from scheduler import planner
from scheduler.farm import Caution, Farm
from scheduler.plan.earlier import EarlierPlan
from scheduler.plan.model import Plan, Task
from scheduler.plan.reconcile import reconcile
from scheduler.plan.settle import Clock, Settled, answer, question_of
from scheduler.risk import SHARES, Outlook, rank
from scheduler.season import OUTDOOR_TARGETS, Cohort, Dose, Doses, Season, WhichWeather
from scheduler.words import Target

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

MadeOn = Literal["plan", "early", "middle", "late"]
_CAUTIONS: tuple[tuple[Caution, MadeOn], ...] = (("high", "early"), ("middle", "middle"), ("low", "late"))


class PastYear(Struct, frozen=True):
    """Sheep-days exposed or only fading under the weather of a year, from the day of the plan on."""

    year: int
    exposed_sheep_days: int


class YearPlan(Struct, frozen=True, kw_only=True):
    """A plan: that of the files (year None), or the least for the weather of one year, and how it fares in every year.

    opens: first day at risk of each target by the weather that the plan was made on; None where it is not reached.
    doses, first_dose: of those still to be given. is_proved: whether it is proved the least for its weather.
    """

    made_on: MadeOn
    year: int | None
    opens: tuple[tuple[Target, date | None], ...]
    doses: int
    first_dose: date | None
    money_minor: int
    is_proved: bool
    years: tuple[PastYear, ...]


def year_plans(
    farm: Farm, plan: Plan, earlier: EarlierPlan | None, out_of_time: Clock, memory: planner.Memory | None = None
) -> tuple[YearPlan, ...]:
    """The plan, then those made on an early, a middle and a late year; none where no level follows years of weather."""
    season = Season(farm, plan.made_for)
    years = season.levels.weather.years
    if not years or all(season.levels.outlook(target) is None for target in season.targets):
        return ()
    past = _PastWeather(season, years)
    own = _row(past, "plan", None, Doses([*season.record, *planned_doses(season, plan.tasks)]), plan.score.money_minor,
               plan.gap is None)  # fmt: skip
    return (own, *(_made_on(past, name, year, earlier, out_of_time, memory) for name, year in past.chosen().items()))


def settled_under(
    farm: Farm,
    made_for: date,
    weather: WhichWeather,
    earlier: EarlierPlan | None,
    out_of_time: Clock,
    memory: planner.Memory | None,
) -> Settled:
    """The least plan of the farm if the levels were those of a past year, or the usual ones."""
    season = Season(farm, made_for, weather)
    reconciled = reconcile(season, earlier)
    open_days = {series: tuple(task.day for task in tasks) for series, tasks in reconciled.open.items()}
    return answer(question_of(season, reconciled.missed, open_days), out_of_time, memory=memory)


def _made_on(
    past: "_PastWeather",
    name: MadeOn,
    year: int,
    earlier: EarlierPlan | None,
    out_of_time: Clock,
    memory: planner.Memory | None,
) -> YearPlan:
    season = past.season
    found = settled_under(season.farm, season.made_for, year, earlier, out_of_time, memory)
    return _row(past, name, year, found.doses, found.sums.money_minor, found.gap is None)


def _row(
    past: "_PastWeather", made_on: MadeOn, year: int | None, doses: Doses, money_minor: int, is_proved: bool
) -> YearPlan:
    ours = [dose.day for dose in doses if dose.is_ours]
    return YearPlan(
        made_on=made_on,
        year=year,
        opens=past.opens(year),
        doses=len(ours),
        first_dose=min(ours, default=None),
        money_minor=money_minor,
        is_proved=is_proved,
        years=past.exposed(doses),
    )


def planned_doses(season: Season, tasks: Iterable[Task]) -> Iterable[Dose]:
    """The doses of these tasks that are still to be given."""
    cohorts = {cohort.id: cohort for cohort in season.cohorts}
    for task in tasks:
        if task.kind != "dose" or task.status != "planned" or task.label is None or task.cohort is None:
            continue
        label = season.farm.labels[task.label]
        use = next(use for use in label.uses if use.id == task.use)
        yield Dose(day=task.day, cohort=cohorts[task.cohort], label=label, use=use)


class _PastWeather:
    """The farm under each past year's weather."""

    def __init__(self, season: Season, years: Sequence[int]) -> None:
        self.season = season
        self._years = years
        self._days = list(season.span.days())
        self._open = {
            (cohort.id, target): self._exposed_bare(cohort, target)
            for cohort in season.cohorts
            for target in season.targets
        }

    def exposed(self, doses: Doses) -> tuple[PastYear, ...]:
        """What these doses leave exposed in each year."""
        import numpy as np

        sums = np.zeros(len(self._years), dtype=np.int64)
        for cohort in self.season.cohorts:
            given = doses.of(cohort)
            for target in self.season.targets:
                is_found = np.array([bool(self.season.findings.standing(cohort, target, day, given))
                                     and self.season.is_here(cohort, day) for day in self._days])  # fmt: skip
                exposed = (self._open[cohort.id, target] & ~self._covered(cohort, target, given)) | is_found
                sums += cohort.head * exposed[:, self._first :].sum(axis=1)
        return tuple(PastYear(year, int(total)) for year, total in zip(self._years, sums, strict=True))

    def chosen(self) -> dict[MadeOn, int]:
        """Of the years in the order in which they open, over all targets that follow weather, those for each name."""
        places = {day: place for place, day in enumerate(self._days)}
        begun = {
            year: sum(len(places) if day is None else places[day] for _, day in self.opens(year))
            for year in self._years
        }
        in_order = sorted(begun, key=lambda year: (begun[year], year))
        return {name: in_order[rank(len(in_order), SHARES[caution]) - 1] for caution, name in _CAUTIONS}

    def opens(self, year: int | None) -> tuple[tuple[Target, date | None], ...]:
        """The first day at risk of each target that follows weather; year None: by the levels of the plan."""
        followed = [(target, self.season.levels.outlook(target)) for target in self.season.targets]
        return tuple((target, self._begins(outlook, target, year)) for target, outlook in followed if outlook)

    def _begins(self, outlook: Outlook, target: Target, year: int | None) -> date | None:
        span, act = self.season.span, self.season.settings.act_level[target]
        if year is not None:
            return outlook.begins(year, span.first, span.last, act)
        return next((day for day in self._days if self.season.reaches_act_level(target, outlook.level(day))), None)

    @property
    def _first(self) -> int:
        return (self.season.first_day - self.season.span.first).days

    def _exposed_bare(self, cohort: Cohort, target: Target) -> "NDArray[np.bool_]":
        """(years, days) on which the cohort is at risk whatever is given."""
        import numpy as np

        season, group = self.season, cohort.group.name
        is_out = np.array([
            season.is_here(cohort, day)
            and not (target in OUTDOOR_TARGETS and season.presence.is_housed(group, day))
            for day in self._days
        ])  # fmt: skip
        reached = season.levels.reached_in_years(target, group, self._days, season.settings.act_level[target])
        return is_out & np.broadcast_to(reached, (len(self._years), len(self._days)))

    def _covered(self, cohort: Cohort, target: Target, given: Iterable[Dose]) -> "NDArray[np.bool_]":
        import numpy as np

        covered = np.zeros(len(self._days), dtype=bool)
        for dose in given:
            if dose.works and target in dose.use.targets:
                span = self.season.cover(cohort, dose.use, dose.day).cover
                start = max(0, (span.first - self._days[0]).days)
                covered[start : max(start, (span.last - self._days[0]).days + 1)] = True
        return covered
