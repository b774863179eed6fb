"""same-group-again: a chemical group is not used twice running where another would do."""

from collections.abc import Iterable, Iterator

from scheduler.labels import Label, Use
from scheduler.rules.contract import Breach, MayGive, Rule, of_dose
from scheduler.season import Dose, Doses, Season
from scheduler.words import Target, say_day

SLUG = "same-group-again"


def check(season: Season, doses: Doses, may_give: MayGive) -> Iterable[Breach]:
    """First doses of the chemical group of the last course for a target, where another group could be given instead.

    The last course is looked for among all that the cohort has had, seasons before this one included. Instead: a use
    of the same purpose for that target, of a label of this farm, given on the same day.
    """
    for course in doses.courses:
        first = course.first
        if first is None or first.origin == "missed":
            continue
        again = _same_again(season, first, doses)
        beside = [dose for dose in doses.of(first.cohort) if dose not in course.doses]
        lawful = [
            f"{label.id} ({use.id}), {label.chemical_group}"
            for label, use in _of_other_groups(season, first, again)
            if may_give(Dose(day=first.day, cohort=first.cohort, label=label, use=use), beside)
        ]
        if lawful:
            last = max(again.values(), key=lambda dose: dose.day)
            text = (
                f"{first.label.chemical_group} again for {', '.join(again)}, as on {say_day(last.day)} "
                f"({last.label.id}); another group could be given instead: {'; '.join(lawful)}"
            )
            yield of_dose(SLUG, first, text, last.where)


def _same_again(season: Season, first: Dose, doses: Doses) -> dict[Target, Dose]:
    """By target of use and plan: the last dose to begin a course before, where it was of the same chemical group."""
    begun = [course.doses[0] for course in doses.courses if course.doses[0].cohort is first.cohort]
    found = {}
    for target in first.use.targets:
        before = [dose for dose in begun if dose.day < first.day and target in dose.use.targets]
        last = max(before, key=lambda dose: dose.day, default=None)
        if target in season.targets and last is not None and last.label.group_key == first.label.group_key:
            found[target] = last
    return found


def _of_other_groups(season: Season, first: Dose, targets: dict[Target, Dose]) -> Iterator[tuple[Label, Use]]:
    for label, use in season.uses():
        same_work = use.purpose == first.use.purpose and not targets.keys().isdisjoint(use.targets)
        if same_work and label.group_key != first.label.group_key:
            yield label, use


RULE = Rule(
    slug=SLUG,
    title="The chemical group changes from one course to the next where another lawful label is at hand.",
    why="What survives one dose of a group survives the next and breeds: a change of group, season by season too, "
    "slows that down.",
    severity="warn",
    family="dose",
    sources=("common-practice",),
    instead=check,
)
