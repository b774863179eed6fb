"""draw-and-mark: sheep of one group that are dosed differently must be told apart first."""

from collections.abc import Iterable
from datetime import date

from scheduler.rules.contract import Breach, Rule
from scheduler.season import Dose, Doses, Season
from scheduler.words import say_day

SLUG = "draw-and-mark"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Each group and day on which its cohorts on the farm do not all get the same doses."""
    days: dict[tuple[date, str], list[Dose]] = {}
    for dose in doses:
        if dose.is_ours:
            days.setdefault((dose.day, dose.cohort.group.name), []).append(dose)
    for (day, name), today in sorted(days.items()):
        here = [cohort for cohort in season.cohorts_of_group(name) if season.is_here(cohort, day)]
        given = {
            cohort.id: frozenset((dose.label.id, dose.use.id, season.dose_ml(dose))
                                 for dose in today if dose.cohort is cohort)
            for cohort in here
        }  # fmt: skip
        if len(set(given.values())) > 1:
            parts = "; ".join(f"{cohort.id} ({cohort.head} head): {_list(given[cohort.id])}" for cohort in here)
            text = f"draw and mark {name} before dosing on {say_day(day)}: {parts}"
            yield Breach(rule=SLUG, text=text, group=name, day=day)


def _list(given: frozenset[tuple[str, str, object]]) -> str:
    return ", ".join(sorted(f"{label} ({use})" for label, use, _ in given)) or "nothing"


RULE = Rule(
    slug=SLUG,
    title="Draw and mark the sheep that leave before a group is dosed in parts.",
    why="Once dosed, a lamb with an open withdrawal looks like any other.",
    severity="note",
    family="work",
    sources=("common-practice",),
    whole=check,
)
