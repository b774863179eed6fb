"""From breaches to the conflicts of the plan and of the audit."""

from collections.abc import Iterable, Iterator, Sequence

from scheduler.plan.model import Choice, ClashFact, Conflict
from scheduler.rules import RULES, Breach, Rule, breaches
from scheduler.season import Doses, Season
from scheduler.verify import stop_breaches
from scheduler.words import say_day

SEVERITY = {rule.slug: rule.severity for rule in RULES}
SLUGS = tuple(rule.slug for rule in RULES)
SAID = tuple(rule for rule in RULES if rule.severity != "stop")
ONLY_OF_PLANS = frozenset(("cover-gap", "cover-fading"))
ONLY_OF_AUDITS = frozenset(("label-unusable",))
PAST_IN_PLANS = frozenset(
    ("meat-withdrawal", "export-interval", "off-label-withdrawal", "organic-withdrawal", "repeat-before-sale",
     "wool-interval")
)  # fmt: skip
"""Stop rules by which what was done still matters for the sales and shearings to come."""


AFTER_THE_DOSE = frozenset(("record-complete", "sale-declaration", "high-challenge"))
"""Rules that also speak in a plan of what was done: what follows lies ahead."""


def plan_breaches(season: Season, doses: Doses, said: Iterable[Breach], rules: Sequence[Rule] = SAID) -> list[Breach]:
    """What the plan must say: refused wishes and late repeats, the record against what comes, warnings and notes.

    rules: those of the warnings and notes that are asked for.
    """
    return _in_order([*said, *_of_the_record(season, doses), *_warnings(season, doses, rules)])


def audit(season: Season, doses: Doses, said: Iterable[Breach]) -> tuple[Conflict, ...]:
    """The audit of wishes and record, as they stand, by every rule but those of cover; `said` was found before."""
    found = [*said, *stop_breaches(season, doses)]
    for breach in breaches(season, doses, SAID):
        if breach.rule not in ONLY_OF_PLANS and (breach.dose is None or breach.dose.origin != "plan"):
            found.append(breach)
    return tuple(conflict_of(breach) for breach in _in_order(found))


def _of_the_record(season: Season, doses: Doses) -> Iterator[Breach]:
    """Stop conflicts of recorded doses: against sales and shearings from made_for on, and missing repeats."""
    for breach in stop_breaches(season, doses):
        dose = breach.dose
        if dose is None or dose.origin != "record":
            continue
        if breach.rule == "lamb-repeat" or (breach.rule in PAST_IN_PLANS and _lies_ahead(season, breach)):
            yield breach


def _lies_ahead(season: Season, breach: Breach) -> bool:
    if breach.dose is None:
        return False
    if breach.rule == "wool-interval":
        return any(event.where == breach.where and event.first >= season.made_for for event in season.farm.events)
    sale = breach.dose.cohort.sale
    return sale is not None and sale.day >= season.made_for


def _warnings(season: Season, doses: Doses, rules: Sequence[Rule]) -> Iterator[Breach]:
    for breach in breaches(season, doses, rules):
        dose = breach.dose
        if breach.rule in ONLY_OF_AUDITS:
            continue
        if dose is None or dose.is_ours or breach.rule in AFTER_THE_DOSE:
            yield breach


def conflict_of(breach: Breach, clash: tuple[ClashFact, ...] = (), choices: tuple[Choice, ...] = ()) -> Conflict:
    """The conflict that says a breach: at the row of the dose judged, where it has one, else at what it meets."""
    own = None if breach.dose is None else breach.dose.where
    return Conflict(
        rule=breach.rule,
        severity=SEVERITY[breach.rule],
        cohort=breach.cohort,
        group=breach.group,
        day=breach.day,
        text=_text(breach),
        where=own or breach.where,
        clash=clash,
        choices=choices,
    )


def _text(breach: Breach) -> str:
    """The sentence with whom it is about before it: cohort, head, and the dose judged."""
    dose = breach.dose
    if dose is not None:
        what = f"{dose.label.id} ({dose.use.id}{', repeat' if dose.first_day else ''}) on {say_day(dose.day)}"
        return f"{dose.cohort.id}, {dose.cohort.head} head, {what}: {breach.text}"
    return breach.text if breach.cohort is None else f"{breach.cohort}: {breach.text}"


def _in_order(found: Iterable[Breach]) -> list[Breach]:
    """Each once: stops first, then warnings, then notes; by rule, date, who and place."""
    once = {_key(breach): breach for breach in found}
    return [once[key] for key in sorted(once)]


def _key(breach: Breach) -> tuple[int, int, str, str, str, tuple[str, str, int, str, str], str]:
    conflict = conflict_of(breach)
    order = ("stop", "warn", "note").index(conflict.severity)
    day = "" if conflict.day is None else conflict.day.isoformat()
    where = ("", "", 0, "", "") if conflict.where is None else conflict.where.sort_key()
    rule = SLUGS.index(conflict.rule)
    return (order, rule, day, conflict.group or "", conflict.cohort or "", where, conflict.text)
