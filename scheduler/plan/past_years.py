"""How a plan would have fared in each past year of weather: the same doses, under that year's levels."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from scheduler.farm import Farm
from scheduler.plan.model import Task
from scheduler.season import Dose, Doses, Season, all_runs
from scheduler.words import Span


@dataclass(frozen=True, slots=True)
class PastYear:
    """Sheep-days exposed or only fading under the weather of a year, from the day of the plan on."""

    year: int
    exposed_sheep_days: int


def past_years(farm: Farm, made_for: date, tasks: Iterable[Task]) -> tuple[PastYear, ...]:
    """The plan's doses, planned and given, in every whole year of weather; none where no level follows weather."""
    season = Season(farm, made_for)
    followed = [season.levels.outlook(target) for target in season.targets]
    years = next((outlook.years for outlook in followed if outlook is not None), ())
    doses = Doses([*season.record, *_planned(season, tasks)])
    return tuple(PastYear(year, _exposed(Season(farm, made_for, year), doses)) for year in years)


def _planned(season: Season, tasks: Iterable[Task]) -> Iterable[Dose]:
    cohorts = {cohort.id: cohort for cohort in season.cohorts}
    for task in tasks:
        if task.kind != "dose" or task.status != "planned" or task.label is None or task.cohort is None:
            continue
        label = season.farm.labels[task.label]
        use = next(use for use in label.uses if use.id == task.use)
        yield Dose(day=task.day, cohort=cohorts[task.cohort], label=label, use=use)


def _exposed(season: Season, doses: Doses) -> int:
    return sum(
        run.cohort.head * len(Span(max(run.span.first, season.first_day), run.span.last))
        for run in all_runs(season, doses)
        if run.state in ("exposed", "fading")
    )
