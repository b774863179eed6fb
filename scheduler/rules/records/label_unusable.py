"""label-unusable: a label file that no dose on this farm can ever use."""

from collections.abc import Iterable

from scheduler.labels import Label, Use
from scheduler.rules.contract import Breach, Rule
from scheduler.season import Cohort, Doses, Season, is_for_meat

SLUG = "label-unusable"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Labels of which every use is barred from every cohort, whatever the day: `season check` says so."""
    for _, label in sorted(season.farm.labels.items()):
        reasons = [_bar(season, label, use, cohort) for use in label.uses for cohort in season.cohorts]
        if None not in reasons:
            told = "; ".join(dict.fromkeys(reason for reason in reasons if reason))
            yield Breach(rule=SLUG, text=f"{label.name} cannot be used on this farm: {told}", where=label.where)


def _bar(season: Season, label: Label, use: Use, cohort: Cohort) -> str | None:
    """Why a use may never be given to a cohort, or None where it may on some day."""
    group = cohort.group
    if not season.holds_here(label):
        return f"it is for {', '.join(label.countries or ())}, and the farm is in {season.settings.country}"
    if label.meat == "not-permitted":
        return "it is not permitted for sheep that are to be eaten"
    if group.kind not in use.kinds:
        return f"{use.id} is for {', '.join(use.kinds)}, and {group.name} are {group.kind}"
    if group.milk and not isinstance(label.milk, int):
        return f"{group.name} are milked, and it states no milk withdrawal"
    if label.meat is None and is_for_meat(cohort):
        return f"{cohort.id} go for meat, and it states no meat withdrawal"
    return None


RULE = Rule(
    slug=SLUG,
    title="A label that cannot be used on this farm is named, with the reason.",
    why="A mistyped country or kind of sheep would leave a medicine out of every plan without a word.",
    severity="note",
    family="records",
    sources=("label-in-hand",),
    whole=check,
)
