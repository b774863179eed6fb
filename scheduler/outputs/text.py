"""The plan as the terminal shows it: plain text, no wider than asked."""

from collections.abc import Iterable, Iterator, Sequence

from scheduler.outputs.screen import WIDTH, Line, Paragraph, lines_text
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

NEXT_SHOWN = 5
OPEN_SHOWN = 4
CHANGES_SHOWN = 6


def plan_text(
    report: SeasonReport,
    changes: Changes | None = None,
    files: Sequence[str] = (),
    width: int = WIDTH,
    removed: Sequence[str] = (),
) -> str:
    """A few lines: what comes next, what stands open, score and proof, and the files just written.

    changes: against the earlier plan, where there was one. files: their paths, never broken. removed: paths of
    calendars of an earlier run that would have gone stale. width: columns.
    """
    plan = report.plan
    title = f"{plan.farm_name}: season {say_day(plan.start)} to {say_day(plan.end)}, made for {say_day(plan.made_for)}"
    blocks: list[list[Line]] = [
        [Paragraph(title), *_draft(report)],
        list(_next(report)),
        list(_open(report)),
        list(_score(report)),
        list(_changed(changed_lines(report, changes) if changes else ())),
        [Paragraph(text, "- ") for text in (*plan.notes, *report.cautions[:2])],
        [*_paths("Files:", files), *_paths("Removed, for they would keep the days of the earlier plan:", removed)],
    ]
    return "\n".join(lines_text(block, width) for block in blocks if block)


def _paths(title: str, names: Sequence[str]) -> Iterator[Line]:
    if names:
        yield title
        yield from (f"  {name}" for name in names)


def _draft(report: SeasonReport) -> Iterator[Line]:
    if report.plan.draft:
        names = ", ".join(label.name for label in report.labels if not label.confirmed)
        yield Paragraph(f"DRAFT: not compared with the leaflet yet: {names}.")


def _next(report: SeasonReport) -> Iterator[Line]:
    missed = missed_tasks(report)
    if missed:
        yield Paragraph(f"{count_text(len(missed), 'past dose', 'past doses')} without a record: see below.")
    lines = coming(report)
    yield "Next:" if lines else "Next: nothing to do in this season."
    for line in lines[:NEXT_SHOWN]:
        draft = " (draft)" if line.task.kind == "dose" and unconfirmed(report, line.task) else ""
        yield Paragraph(f"{line.text}{draft}", f"  {weekday_text(line.day):>15}  ", " " * 19)


def _open(report: SeasonReport) -> Iterator[Line]:
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
        (len(points.part), "dose to give in lots by weight", "doses to give in lots by weight"),
        (len(points.watch), "thing to watch", "things to watch"),
        (len(points.know), "note", "notes"),
    )
    counts = [count_text(count, one, many) for count, one, many in others if count]
    if counts:
        yield Paragraph(f"Besides: {', '.join(counts)}; all of it stands in summary.html.", "  ", "  ")


def _changed(changes: Sequence[str]) -> Iterator[Line]:
    if changes:
        yield "Changed since the earlier plan:"
    for change in changes[:CHANGES_SHOWN]:
        yield Paragraph(change, "  ", "    ")
    if len(changes) > CHANGES_SHOWN:
        yield f"  and {count_text(len(changes) - CHANGES_SHOWN, 'other change', 'other changes')}, in changes.json."


def _score(report: SeasonReport) -> Iterator[Line]:
    score, gap = report.plan.score, report.plan.gap
    money = money_text(score.money_minor, score.currency, report.exponent)
    sums = (
        count_text(score.exposed_sheep_days, "exposed sheep-day", "exposed sheep-days"),
        money,
        count_text(score.gathers, "gather", "gathers"),
        count_text(score.handlings, "handling", "handlings"),
    )
    yield Paragraph(f"Score: {', '.join(sums)}.")
    if gap is None:
        yield Paragraph(
            f"Proved: no lawful plan{_budget(report)} leaves fewer exposed sheep-days, nor costs less with as few."
        )
        return
    days = count_text(gap.exposed_sheep_days, "exposed sheep-day", "exposed sheep-days")
    cheaper = (
        "an unknown sum" if gap.money_minor is None else money_text(gap.money_minor, score.currency, report.exponent)
    )
    yield Paragraph(f"Best found{_budget(report)}, not proved: a better plan could save at most {days} and {cheaper}.")


def _budget(report: SeasonReport) -> str:
    if report.most_minor is None:
        return ""
    return f" of at most {money_text(report.most_minor, report.plan.score.currency, report.exponent)}"


def conflicts_text(
    conflicts: Iterable[Conflict], currency: str | None = None, exponent: int = 0, width: int = WIDTH
) -> str:
    """Conflicts one under the other: rule and severity, who, when and the figures; then clash and choices.

    Without a currency the choices are told without their money. width: columns.
    """
    lines = (line for one in conflicts for line in _conflict(one, conflict_who(one), currency, exponent))
    return lines_text(lines, width)


def _conflict(conflict: Conflict, who: str, currency: str | None, exponent: int) -> Iterator[Line]:
    place = "" if conflict.where is None or str(conflict.where) in conflict.text else f" ({conflict.where})"
    yield Paragraph(f"{conflict.rule} ({conflict.severity}): {who}{conflict.text}{place}")
    for fact in conflict.clash:
        place = "" if str(fact.where) in fact.text else f" ({fact.where})"
        yield Paragraph(f"{fact.rule}: {fact.text}{place}", "  clash    ", " " * 11)
    for choice in conflict.choices:
        yield from _choice(choice, currency, exponent)


def _choice(choice: Choice, currency: str | None, exponent: int) -> Iterator[Line]:
    yield Paragraph(choice.text, f"  {choice.decides:<9}", " " * 11)
    exposed, money, handlings = price_words(choice, currency or "", exponent)
    price = (exposed, money, handlings) if currency else (exposed, handlings)
    yield Paragraph(", ".join(price), " " * 11, " " * 11)
