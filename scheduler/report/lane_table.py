"""The picture in words: for each lane a table of the same facts, for those who read rather than look."""

from collections.abc import Iterable, Iterator

from msgspec import Struct

from scheduler.plan import CohortLine, Run, State, Task
from scheduler.report.bands import state_spans
from scheduler.report.figures import clear_words
from scheduler.report.marks import WEANED, letters_of
from scheduler.report.sentences import day_month, label_name, list_text, number_text, span_text, words_of
from scheduler.report.view import Gather, SeasonReport
from scheduler.season.presence import GATHERING
from scheduler.words import Span, Target, say_day

SHOWN: tuple[State, ...] = ("exposed", "fading", "covered")
"""States told of each target; the legend says what they mean."""


class Fact(Struct, frozen=True):
    """One row: what, on which days, and what more there is to say."""

    what: str
    days: str
    more: str = ""


def lane_facts(report: SeasonReport, cohort: CohortLine) -> tuple[Fact, ...]:
    """States of each target (days under the act level are left out), doses, withdrawal, events and the sale."""
    return (
        *_away(report, cohort),
        *(fact for target, _ in report.act_levels for fact in _states(report, cohort, target)),
        *_doses(report, cohort),
        *_events(report, cohort),
        *_leaving(report, cohort),
    )


def mob_facts(report: SeasonReport, mob: str, groups: tuple[str, ...]) -> tuple[Fact, ...]:
    """When the mob is brought in, by what."""
    own = sorted((g for g in report.gathers if g.event is None and g.mob.removesuffix(WEANED) == mob),
                 key=lambda g: g.day)  # fmt: skip
    free = {
        (event.first, event.what): Fact("brought in anyway", span_text(event.first, event.last), words_of(event.what))
        for event in report.events
        if event.what in GATHERING and not set(groups).isdisjoint(event.groups)
    }
    alone = [Fact("gathered for doses alone", say_day(gather.day), _weaned(mob, gather)) for gather in own]
    return (*_joined(alone), *_joined(free.values()))


def _weaned(mob: str, gather: Gather) -> str:
    return "" if gather.mob == mob else "weaned lambs"


def _joined(facts: Iterable[Fact]) -> Iterator[Fact]:
    """Facts that differ by their days alone are one row."""
    days: dict[tuple[str, str], list[str]] = {}
    for fact in facts:
        days.setdefault((fact.what, fact.more), []).append(fact.days)
    for (what, more), own in days.items():
        yield Fact(what, "; ".join(own), more)


def _runs(report: SeasonReport, cohort: CohortLine, target: Target) -> list[Run]:
    return [run for run in report.plan.days if run.cohort == cohort.id and run.target == target]


def _away(report: SeasonReport, cohort: CohortLine) -> Iterator[Fact]:
    """Days not on the farm, or away: said once where they are the same for every target."""
    days: dict[str, list[str]] = {}
    for target, _ in report.act_levels:
        spans = state_spans(_runs(report, cohort, target))
        days.setdefault(_list(span for own, span in spans if own == "away"), []).append(words_of(target))
    for told, targets in days.items():
        if told:
            yield Fact("away" if len(days) == 1 else f"{list_text(targets)}: away", told)


def _states(report: SeasonReport, cohort: CohortLine, target: Target) -> Iterator[Fact]:
    runs = _runs(report, cohort, target)
    spans = list(state_spans(runs))
    for state in SHOWN:
        levels = [run.level for run in runs if run.state == state]
        if not levels:
            continue
        level = number_text(min(levels)) + (f" to {number_text(max(levels))}" if min(levels) < max(levels) else "")
        days = _list(span for own, span in spans if own == state)
        yield Fact(f"{words_of(target)}: {state}", days, f"level {level}")


def _list(spans: Iterator[Span]) -> str:
    return "; ".join(span_text(span.first, span.last) for span in spans)


def _doses(report: SeasonReport, cohort: CohortLine) -> Iterator[Fact]:
    letters = dict(letters_of(report))
    for task in report.plan.tasks:
        if task.kind != "dose" or task.cohort != cohort.id or task.status == "cancelled":
            continue
        what = f"{'repeat dose' if task.repeat_of else 'dose'} {letters.get(task.label or '', '')}"
        status = "" if task.status == "planned" else task.status
        clear = list_text(clear_words(task))
        more = (label_name(report, task.label), status, _protection(task), f"clear date: {clear}" if clear else "")
        yield Fact(what, say_day(task.day), "; ".join(filter(None, more)))


def _protection(task: Task) -> str:
    protects = task.protects
    if protects is None or protects.first is None or protects.last is None:
        return ""
    fading = "" if protects.fades_until is None else f", fading to {day_month(protects.fades_until)}"
    return f"protects {span_text(protects.first, protects.last)}{fading}"


def _events(report: SeasonReport, cohort: CohortLine) -> Iterator[Fact]:
    for event in report.events:
        left = cohort.leaves is not None and event.first > cohort.leaves
        if cohort.group in event.groups and event.what != "gather" and not left:
            yield Fact(words_of(event.what), span_text(event.first, event.last), event.note)


def _leaving(report: SeasonReport, cohort: CohortLine) -> Iterator[Fact]:
    if cohort.leaves is not None:
        sale = next((s for s in report.sales if s.name == cohort.sale and s.group == cohort.group), None)
        yield Fact("leaves", say_day(cohort.leaves), f"{sale.name}, {sale.purpose}" if sale else cohort.sale or "")
