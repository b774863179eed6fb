"""daily-head: no more sheep on a day than hands can do."""

from collections.abc import Iterable

from scheduler.rules.contract import Breach, Rule
from scheduler.season import Cohort, Dose, Doses, Season
from scheduler.words import say_day

SLUG = "daily-head"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Head dosed on a day, each cohort once; a cohort over the limit by itself may be done alone."""
    most = season.settings.most_head_per_day
    if most == 0:
        return
    days: dict[object, list[Dose]] = {}
    for dose in doses:
        if dose.origin != "missed":
            days.setdefault(dose.day, []).append(dose)
    for today in days.values():
        cohorts: dict[str, Cohort] = {dose.cohort.id: dose.cohort for dose in today}
        head = sum(cohort.head for cohort in cohorts.values())
        if head > most and len(cohorts) > 1:
            last = next((dose for dose in reversed(today) if dose.is_ours), today[-1])
            text = f"{head} head on {say_day(last.day)}; the most for a day is {most}"
            yield Breach(rule=SLUG, text=text, dose=last, cohort=last.cohort.id, group=last.cohort.group.name,
                         day=last.day, where=season.settings.most_head_where)  # fmt: skip


RULE = Rule(
    slug=SLUG,
    title="No more sheep are dosed on a day than the farm can handle.",
    why="Tired hands under-dose, and sheep stand penned too long.",
    severity="stop",
    family="work",
    sources=("own-threshold",),
    whole=check,
)
