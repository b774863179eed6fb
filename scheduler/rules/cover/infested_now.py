"""infested-now: sheep found infested are treated today, not when the plan next comes round."""

from collections.abc import Iterable
from datetime import timedelta

from scheduler.rules.contract import Breach, Rule
from scheduler.season import Cohort, Doses, Season
from scheduler.words import Target, Where, say_day

SLUG = "infested-now"


def check(season: Season, doses: Doses) -> Iterable[Breach]:
    """Each cohort and target with a finding that stands on made_for by what was done so far."""
    for cohort in season.cohorts:
        if not season.is_here(cohort, season.made_for):
            continue
        for target in season.targets:
            given = season.record.of(cohort)
            for row in season.findings.standing(cohort, target, season.made_for, given):
                yield _breach(season, doses, cohort, target, row.where)


def _breach(season: Season, doses: Doses, cohort: Cohort, target: Target, where: Where) -> Breach:
    treat = [dose for dose in doses.of(cohort)
             if dose.is_ours and dose.use.purpose == "treat" and target in dose.use.targets]  # fmt: skip
    if treat:
        first = treat[0]
        again = first.day + timedelta(days=season.settings.recheck_after_treatment)
        plan = f"treat on {say_day(first.day)} with {first.label.id}, look again on {say_day(again)}"
    else:
        plan = "no treatment of this farm's labels is lawful in the plan: act today, ask the vet"
    if treat and treat[0].day != season.made_for:
        plan += "; none is lawful sooner: ask the vet what to do until then"
    text = f"{target} stands on {cohort.head} head: {plan}; call the vet if sheep are ill or it spreads"
    return Breach(rule=SLUG, text=text, cohort=cohort.id, group=cohort.group.name, where=where)


RULE = Rule(
    slug=SLUG,
    title="Sheep that were found infested are treated at once and looked at again.",
    why="Struck sheep can die within days, and every infested one feeds the next wave.",
    severity="warn",
    family="cover",
    sources=("common-practice", "strike-biology-2015"),
    whole=check,
)
