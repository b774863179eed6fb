"""arrival-isolation: sheep that arrive bring what lives on them."""

from collections.abc import Iterable

from scheduler.facts import facts
from scheduler.farm import Group
from scheduler.rules.contract import Breach, Rule
from scheduler.season import Doses, Season
from scheduler.words import plus, say_day, say_days

SLUG = "arrival-isolation"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Groups whose mob on the day they arrive holds sheep that were there before; until the days of the facts are over.

    Groups that arrive on the same day are taken to come together.
    """
    days = facts().figures.isolation_days.whole
    for group in season.farm.groups:
        comes = group.arrives
        if comes is None or comes > season.span.last or plus(comes, days) <= season.made_for:
            continue
        others = _others_there(season, group)
        if others:
            text = (
                f"{group.name} arrive on {say_day(comes)} and share a mob with {'; '.join(others)}: keep them apart "
                f"for {say_days(days)}, until {say_day(plus(comes, days))}, and look them over for lice and scab first"
            )
            yield Breach(rule=SLUG, text=text, group=group.name, where=group.where)


def _others_there(season: Season, group: Group) -> list[str]:
    comes = season.presence.comes(group)
    mob = season.presence.mob_groups(season.presence.mob_of(group.name, comes), comes)
    return [name for name in mob
            if season.presence.comes(season.farm.group(name)) < comes
            and any(season.presence.on_farm(cohort, comes) for cohort in season.cohorts_of_group(name))]  # fmt: skip


RULE = Rule(
    slug=SLUG,
    title="Sheep that arrive are kept apart and looked over before they join others.",
    why="Lice and scab come with bought sheep, weeks before they show; one gather spreads them through the mob.",
    severity="warn",
    family="work",
    sources=("common-practice", "moxidectin-injection-sheet"),
    whole=check,
)
