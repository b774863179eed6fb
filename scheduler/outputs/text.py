"""The plan as the terminal shows it: plain text, at most 80 columns."""

import textwrap
from collections.abc import Iterable, Iterator, Sequence

from scheduler.report import (
    Changes,
    Choice,
    Conflict,
    SeasonReport,
    changed_lines,
    coming,
    conflict_who,
    count_text,
    missed_tasks,
    money_text,
    open_points,
    price_words,
    unconfirmed,
    weekday_text,
)
from scheduler.words import say_day

WIDTH = 80
NEXT_SHOWN = 5
OPEN_SHOWN = 4
CHANGES_SHOWN = 6


def plan_text(report: SeasonReport, changes: Changes | None = None, files: Sequence[str] = ()) -> str:
    """A few lines: what comes next, what stands open, score and proof, and the files just written.

    changes: against the earlier plan, where there was one; files: their paths.
    """
    plan = report.plan
    title = f"{plan.farm_name}: season {say_day(plan.start)} to {say_day(plan.end)}, made for {say_day(plan.made_for)}"
    blocks = [
        [*_wrapped(title), *_draft(report)],
        list(_next(report)),
        list(_open(report)),
        list(_score(report)),
        list(_changed(changed_lines(report, changes) if changes else ())),
        [line for text in (*plan.notes, *report.cautions[:2]) for line in _wrapped(text, "- ", "  ")],
        ["Files:", *(f"  {name}" for name in files)] if files else [],
    ]
    return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"


def _wrapped(text: str, first: str = "", rest: str = "  ") -> list[str]:
    plain = "".join(letter if letter.isprintable() else " " for letter in text)
    return textwrap.wrap(
        plain, WIDTH, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False
    )  # fmt: skip


def _draft(report: SeasonReport) -> Iterator[str]:
    if report.plan.draft:
        names = ", ".join(label.name for label in report.labels if not label.confirmed)
        yield from _wrapped(f"DRAFT: not compared with the leaflet yet: {names}.")


def _next(report: SeasonReport) -> Iterator[str]:
    missed = missed_tasks(report)
    if missed:
        yield from _wrapped(f"{count_text(len(missed), 'past dose', 'past doses')} without a record: see below.")
    lines = coming(report)
    yield "Next:" if lines else "Next: nothing to do in this season."
    for line in lines[:NEXT_SHOWN]:
        draft = " (draft)" if line.task.kind == "dose" and unconfirmed(report, line.task) else ""
        yield from _wrapped(f"{line.text}{draft}", f"  {weekday_text(line.day):>15}  ", " " * 19)


def _open(report: SeasonReport) -> Iterator[str]:
    points = open_points(report.plan.conflicts)
    if not report.plan.conflicts:
        return
    yield "Open:" if points.decide else "Open: nothing to decide."
    for conflict in points.decide[:OPEN_SHOWN]:
        who = conflict_who(conflict, report.plan.cohorts)
        yield from _conflict(conflict, who, report.plan.score.currency, report.exponent)
    left = len(points.decide) - OPEN_SHOWN
    others = (
        (max(left, 0), "more to decide", "more to decide"),
        (len(points.watch), "thing to watch", "things to watch"),
        (len(points.know), "note", "notes"),
    )
    counts = [count_text(count, one, many) for count, one, many in others if count]
    if counts:
        yield from _wrapped(f"Besides: {', '.join(counts)}; all of it stands in summary.html.", "  ", "  ")


def _changed(changes: Sequence[str]) -> Iterator[str]:
    if changes:
        yield "Changed since the earlier plan:"
    for change in changes[:CHANGES_SHOWN]:
        yield from _wrapped(change, "  ", "    ")
    if len(changes) > CHANGES_SHOWN:
        yield f"  and {count_text(len(changes) - CHANGES_SHOWN, 'other change', 'other changes')}."


def _score(report: SeasonReport) -> Iterator[str]:
    score, gap = report.plan.score, report.plan.gap
    money = money_text(score.money_minor, score.currency, report.exponent)
    sums = (
        count_text(score.exposed_sheep_days, "exposed sheep-day", "exposed sheep-days"),
        money,
        count_text(score.gathers, "gather", "gathers"),
        count_text(score.handlings, "handling", "handlings"),
    )
    yield from _wrapped(f"Score: {', '.join(sums)}.")
    if gap is None:
        yield from _wrapped("Proved: no lawful plan leaves fewer exposed sheep-days, nor costs less with as few.")
        return
    days = count_text(gap.exposed_sheep_days, "exposed sheep-day", "exposed sheep-days")
    cheaper = (
        "an unknown sum" if gap.money_minor is None else money_text(gap.money_minor, score.currency, report.exponent)
    )
    yield from _wrapped(f"Best found, not proved: a better plan could save at most {days} and {cheaper}.")


def conflicts_text(conflicts: Iterable[Conflict], currency: str | None = None, exponent: int = 0) -> str:
    """Conflicts one under the other: rule and severity, who, when and the figures; then clash and choices.

    Without a currency the choices are told without their money.
    """
    return "".join(
        f"{line}\n"
        for conflict in conflicts
        for line in _conflict(conflict, conflict_who(conflict), currency, exponent)
    )


def _conflict(conflict: Conflict, who: str, currency: str | None, exponent: int) -> Iterator[str]:
    place = "" if conflict.where is None or str(conflict.where) in conflict.text else f" ({conflict.where})"
    yield from _wrapped(f"{conflict.rule} ({conflict.severity}): {who}{conflict.text}{place}")
    for fact in conflict.clash:
        place = "" if str(fact.where) in fact.text else f" ({fact.where})"
        yield from _wrapped(f"{fact.rule}: {fact.text}{place}", "  clash    ", " " * 11)
    for choice in conflict.choices:
        yield from _choice(choice, currency, exponent)


def _choice(choice: Choice, currency: str | None, exponent: int) -> Iterator[str]:
    yield from _wrapped(choice.text, f"  {choice.decides:<9}", " " * 11)
    exposed, money, handlings = price_words(choice, currency or "", exponent)
    price = (exposed, money, handlings) if currency else (exposed, handlings)
    yield from _wrapped(", ".join(price), " " * 11, " " * 11)
