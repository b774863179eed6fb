"""calendar.ics: every task as an all-day event (RFC 5545, with words of RFC 7986); the client names and colours it."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from msgspec import Struct

from scheduler.outputs.content_lines import octets, plain, text_line
from scheduler.report import (
    LastDay,
    RepeatDay,
    SaleDays,
    SeasonReport,
    Task,
    clear_words,
    confirm_words,
    count_text,
    headline,
    method_words,
    number_text,
    protection_words,
    slip_words,
    weekday_text,
)

PRODID = "-//season-scheduler//season//EN"
HEAD = ("BEGIN:VCALENDAR", f"PRODID:{PRODID}", "VERSION:2.0")
"""How every calendar of ours begins (RFC 5545, 3.7.3 and 3.7.4)."""

QUIET_KINDS = ("recheck", "clear")
"""Kinds of task without alarms."""

LAST_SAFE_DAY = "last-safe-day"
"""The kind of the events that are no tasks."""

NO_EVENT = (
    "BEGIN:VTIMEZONE",
    "TZID:Etc/UTC",
    "BEGIN:STANDARD",
    "DTSTART:19700101T000000",
    "TZOFFSETFROM:+0000",
    "TZOFFSETTO:+0000",
    "END:STANDARD",
    "END:VTIMEZONE",
)
"""What a calendar without events holds: one component there must be (RFC 5545, 3.6), and this one says nothing."""


class Entry(Struct, frozen=True):
    """One event: its kind, the groups it is for (none: the whole farm), and its octets."""

    kind: str
    groups: tuple[str, ...]
    content: bytes


def calendar_ics(report: SeasonReport, last_safe_days: bool = False) -> bytes:
    """The bytes of calendar.ics: UTF-8, CRLF, at most 75 octets a line. Cancelled tasks stay until the season's end.

    last_safe_days: whether the last safe day of each sale and label has an event too; these are no tasks.
    """
    return calendar_of(report, entries_of(report, last_safe_days))


def is_ours(calendar: bytes) -> bool:
    """Whether a calendar begins as we write it."""
    return calendar.startswith(octets(HEAD))


def calendar_of(report: SeasonReport, entries: Iterable[Entry]) -> bytes:
    """The calendar of these events; DESCRIPTION says whether it is a draft, and the usual cautions (RFC 7986, 5.2)."""
    draft = ("Draft: labels are not confirmed.",) if report.plan.draft else ()
    head = octets((*HEAD, text_line("DESCRIPTION", "\n".join((*draft, *report.cautions)))))
    body = b"".join(entry.content for entry in entries) or octets(NO_EVENT)
    return head + body + octets(("END:VCALENDAR",))


def entries_of(report: SeasonReport, last_safe_days: bool = False) -> tuple[Entry, ...]:
    """Every event, in the order of the plan."""
    return tuple(_entries(report, last_safe_days))


def _entries(report: SeasonReport, last_safe_days: bool) -> Iterator[Entry]:
    for task in report.plan.tasks:
        if task.status != "cancelled" or report.plan.made_for <= report.plan.end:
            groups = tuple(task.group.split("; ")) if task.group else ()
            yield Entry(task.kind, groups, octets(_event(report, task)))
    for sale in report.last_days if last_safe_days else ():
        for line in sale.labels:
            if line.day is not None and not line.is_past:
                yield Entry(LAST_SAFE_DAY, (sale.group,), octets(_last_day(report, sale, line, line.day)))


def _event(report: SeasonReport, task: Task) -> Iterator[str]:
    """One task (RFC 5545, 3.6.1)."""
    title = summary_of(report, task)
    status = "CANCELLED" if task.status == "cancelled" else "CONFIRMED"
    yield "BEGIN:VEVENT"
    yield from _all_day(report, task.uid, task.day, task.sequence, status)
    yield f"CATEGORIES:{task.kind}"
    yield text_line("SUMMARY", title)
    yield text_line("DESCRIPTION", _description(report, task))
    if task.repeat_of is not None:
        yield text_line("RELATED-TO", task.repeat_of)
    if task.status == "planned" and task.kind not in QUIET_KINDS:
        for duration in report.remind:
            yield from _alarm(duration, title)
    yield "END:VEVENT"


def _all_day(report: SeasonReport, uid: str, day: date, sequence: int = 0, status: str = "CONFIRMED") -> Iterator[str]:
    """An event of one day, DTEND the first day after it (RFC 5545, 3.8.2.2), that leaves the day free (3.8.2.7)."""
    yield text_line("UID", uid)
    yield f"DTSTAMP:{report.plan.made_for:%Y%m%d}T000000Z"
    yield f"DTSTART;VALUE=DATE:{day:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{day + timedelta(days=1):%Y%m%d}"
    yield f"SEQUENCE:{sequence}"
    yield f"STATUS:{status}"
    yield "TRANSP:TRANSPARENT"


def _last_day(report: SeasonReport, sale: SaleDays, line: LastDay, day: date) -> Iterator[str]:
    """The last safe day of one label before one sale: without alarm, for nothing is to be done."""
    draft = "" if line.confirmed else " (draft)"
    whose = f"{sale.group}, {number_text(sale.head)} head"
    for_meat = sale.purpose in ("slaughter", "export")
    later = "A dose after it is unlawful" if for_meat else "Later is lawful, but the buyer must be told"
    lines = [
        "" if line.confirmed else "Draft: the label is not confirmed; compare its file with the leaflet in hand.",
        f"The last dose before {sale.sale} on {weekday_text(sale.day)}, counted {line.counted}. {later}.",
        *(_repeat_line(repeat) for repeat in line.repeats),
        *report.cautions,
    ]
    yield "BEGIN:VEVENT"
    yield from _all_day(report, line.uid, day)
    yield f"CATEGORIES:{LAST_SAFE_DAY}"
    yield text_line("SUMMARY", f"Last safe day of {line.name} for {whose} ({sale.sale}){draft}")
    yield text_line("DESCRIPTION", "\n".join(filter(None, lines)))
    yield "END:VEVENT"


def _repeat_line(repeat: RepeatDay) -> str:
    by = "there is no day for its first dose" if repeat.day is None else f"first dose by {weekday_text(repeat.day)}"
    return f"{repeat.use}, with its repeat {count_text(repeat.after_days, 'day', 'days')} later: {by}."


def _alarm(duration: str, text: str) -> Iterator[str]:
    """A reminder (RFC 5545, 3.6.6) so long before local midnight of the day (3.8.6.3)."""
    yield "BEGIN:VALARM"
    yield "ACTION:DISPLAY"
    yield text_line("DESCRIPTION", text)
    yield f"TRIGGER:{duration}"
    yield "END:VALARM"


def summary_of(report: SeasonReport, task: Task) -> str:
    """The event's title: what to do, group and head; done, missed, cancelled or draft at its end."""
    mark = "" if task.status == "planned" else f" ({task.status})"
    if task.status == "planned" and task.kind == "dose" and confirm_words(report, task):
        mark = " (draft)"
    return plain(headline(report, task)).replace("\n", " ") + mark


DRAFT = "Draft plan: it rests on labels that are not confirmed."
CALLED_OFF = "No longer in the plan: nothing is to be done here. It stood there as:"


def _description(report: SeasonReport, task: Task) -> str:
    """The task in full, with the usual cautions where a medicine is handled, else the first two of them.

    A draft says so in every event. What is called off or was missed gives no directions any more.
    """
    draft = DRAFT if report.plan.draft else ""
    if task.status == "cancelled":
        return "\n".join(filter(None, (CALLED_OFF, task.text, draft, *report.cautions[:2])))
    stands = task.status != "missed"
    lines = [
        draft,
        task.text,
        *(method_words(report, task) if stands else ()),
        *(f"Clear: {words}." for words in clear_words(task)),
        _sentence(protection_words(task)) if stands else "",
        _room(report, task),
        *(f"Why: {because.text}" for because in task.because),
        *(report.cautions if task.kind == "dose" else report.cautions[:2]),
    ]
    return "\n".join(filter(None, lines))


def _room(report: SeasonReport, task: Task) -> str:
    why = report.why(task.uid)
    room = "" if why is None or why.slip is None else slip_words(report, why, task.day)
    return f"Room to move, all else as planned: {room}." if room else ""


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}." if text else ""
