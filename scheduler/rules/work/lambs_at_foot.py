"""lambs-at-foot: ewes and their lambs are best dosed together."""

from collections.abc import Iterable
from datetime import date

from scheduler.rules.contract import Breach, Rule
from scheduler.season import Doses, Season
from scheduler.words import say_day

SLUG = "lambs-at-foot"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Each gather of a mob of ewes and lambs on which only the ones or only the others are dosed."""
    given: dict[tuple[date, str], set[str]] = {}
    for dose in doses:
        if dose.is_ours:
            name = dose.cohort.group.name
            given.setdefault((dose.day, season.presence.mob_of(name, dose.day)), set()).add(name)
    for (day, mob), dosed in sorted(given.items()):
        present = [name for name in sorted(season.presence.mob_groups(mob, day))
                   if any(season.is_here(cohort, day) for cohort in season.cohorts_of_group(name))]  # fmt: skip
        ewes = [name for name in present if season.farm.group(name).kind == "ewe"]
        lambs = [name for name in present if season.farm.group(name).kind == "lamb"]
        if not ewes or not lambs or bool(dosed & set(ewes)) == bool(dosed & set(lambs)):
            continue
        done, left = sorted(dosed & {*ewes, *lambs}), lambs if dosed & set(ewes) else ewes
        text = f"on {say_day(day)} {'; '.join(done)} are dosed and {'; '.join(left)} of the same mob are not"
        yield Breach(rule=SLUG, text=text, group="; ".join(present), day=day)


RULE = Rule(
    slug=SLUG,
    title="Where ewes are dosed and the lambs at foot are not, or the other way, look whether that is meant.",
    why="Flies and ticks go to the untreated ones, and lambs rub medicine off their mothers.",
    severity="note",
    family="work",
    sources=("common-practice",),
    whole=check,
)
