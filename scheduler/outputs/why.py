"""season why: one task explained, as text for people and as JSON for programs."""

from collections.abc import Iterator, Sequence

from scheduler.outputs.json import Value, json_text
from scheduler.outputs.screen import WIDTH, Line, Paragraph, lines_text
from scheduler.report import (
    Bound,
    Change,
    SeasonReport,
    Task,
    Why,
    bound_words,
    change_words,
    headline,
    next_best_words,
    other_words,
    slip_words,
    unconfirmed,
    weekday_text,
)


def why_json(task: Task, why: Why) -> str:
    """The text of `season why --json`."""
    best = why.next_best
    return json_text(
        {
            "task": task.uid,
            "date": task.day,
            "because": [
                {"rule": one.rule, "text": one.text, "where": None if one.where is None else one.where.as_json()}
                for one in why.because
            ],
            "earliest": _bound(why.earliest),
            "latest": _bound(why.latest),
            "next_best": None if best is None else {"date": best.day, **_change(best.change)},
            "buys": None if why.buys is None else _change(why.buys),
        }
    )


def _bound(bound: Bound | None) -> Value:
    return None if bound is None else {"date": bound.day, "rule": bound.rule, "text": bound.text}


def _change(change: Change) -> dict[str, Value]:
    return {
        "exposed_sheep_days": change.exposed_sheep_days,
        "money_minor": change.money_minor,
        "handlings": change.handlings,
    }


def why_text(report: SeasonReport, task: Task, why: Why, also: Sequence[Task] = (), width: int = WIDTH) -> str:
    """The task explained. also: other tasks that the same name may mean; width: columns."""
    blocks: list[list[Line]] = [
        list(_head(report, task)),
        ["Why:", *(_told(one.rule or "yours", one.text) for one in why.because)] if why.because else [],
        list(_days(report, task, why)),
        list(_worth(report, task, why)),
        list(_others(report, why)),
        list(_also(report, also)),
        [Paragraph(text, "- ") for text in report.cautions[:2]] if task.kind == "dose" else [],
    ]
    return "\n".join(lines_text(block, width) for block in blocks if block)


def _head(report: SeasonReport, task: Task) -> Iterator[Line]:
    state = "" if task.status == "planned" else f" ({task.status})"
    yield Paragraph(f"{weekday_text(task.day)}: {headline(report, task)}{state}")
    if task.status == "cancelled":
        yield "Called off: the plan does without it now."
    elif task.status != "planned" and task.kind == "dose":
        yield Paragraph(task.text)
    if task.kind == "dose" and task.status == "planned" and unconfirmed(report, task):
        yield Paragraph("DRAFT: the label has not been compared with the leaflet yet.")


def _told(name: str, text: str) -> Line:
    return Paragraph(text, f"  {name}: ", "    ")


def _days(report: SeasonReport, task: Task, why: Why) -> Iterator[Line]:
    """The bounds, and the room to move between them."""
    for name, bound in (("Earliest", why.earliest), ("Latest", why.latest)):
        if bound is not None:
            rule = "" if bound.rule is None else f"{bound.rule}: "
            day, _, text = bound_words(bound).partition(". ")
            yield Paragraph(f"{name} {day}: {rule}{text}")
    if why.slip is not None:
        yield Paragraph(f"Room to move, all else as planned: {slip_words(report, why, task.day)}.")


def _worth(report: SeasonReport, task: Task, why: Why) -> Iterator[Line]:
    if task.kind != "dose" or task.status != "planned":
        return
    best = next_best_words(report, why, handlings=True)
    if best:
        yield Paragraph(f"Next best day, all planned again: {best}.")
    if report.most_minor is not None:
        yield Paragraph("Within a budget nothing is planned again for what a dose buys, or for a day that costs more.")
        return
    if not best:
        yield Paragraph("Next best day: there is none, or no proof.")
    if why.buys is None:
        yield Paragraph("What it buys: it may not be left out, or there is no proof in time.")
    else:
        change = change_words(report, why.buys, handlings=True)
        yield Paragraph(f"What it buys: left out, with no other in its stead and the rest planned again: {change}.")


def _others(report: SeasonReport, why: Why) -> Iterator[Line]:
    if why.others is None:
        return
    yield "Why not another label, all else as planned:" if why.others else "No other label of the farm is for this."
    for other in why.others:
        rule = "" if other.rule is None else f"{other.rule}: "
        yield Paragraph(f"{rule}{other_words(report, other)}", "  ", "    ")


def _also(report: SeasonReport, also: Sequence[Task]) -> Iterator[Line]:
    if also:
        yield "The same name may mean:"
    for task in also:
        yield Paragraph(f"{task.uid}  {headline(report, task)}", "  ", "    ")
