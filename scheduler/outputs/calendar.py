"""calendar.ics: every task as an all-day event (RFC 5545, with names after RFC 7986)."""

from datetime import UTC, date, datetime, time, timedelta
from typing import TYPE_CHECKING

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

if TYPE_CHECKING:
    from icalendar import Alarm, Calendar, Event

PRODID = "-//season-scheduler//season//EN"
QUIET_KINDS = ("recheck", "clear")
"""Kinds of task without alarms."""


def calendar_ics(report: SeasonReport, last_safe_days: bool = False) -> bytes:
    """The bytes of calendar.ics: UTF-8, CRLF, at most 75 octets a line. Cancelled tasks stay until the season's end.

    last_safe_days: whether the last safe day of each sale and label has an event too; these are no tasks.
    """
    from icalendar import Calendar

    calendar = Calendar()
    _add_head(calendar, report)
    for task in report.plan.tasks:
        if task.status != "cancelled" or report.plan.made_for <= report.plan.end:
            calendar.add_component(_event(report, task))
    for sale in report.last_days if last_safe_days else ():
        for line in sale.labels:
            if line.day is not None and not line.is_past:
                calendar.add_component(_last_day(report, sale, line, line.day))
    return bytes(calendar.to_ical(sorted=False))


def _add_head(calendar: "Calendar", report: SeasonReport) -> None:
    """PRODID and VERSION (RFC 5545, 3.7.3 and 3.7.4), NAME and DESCRIPTION (RFC 7986, 5.1 and 5.2)."""
    from icalendar import vText

    name = _plain(f"Season plan of {report.plan.farm_name}")
    calendar.add("prodid", PRODID)
    calendar.add("version", "2.0")
    calendar["NAME"] = vText(name)
    calendar["X-WR-CALNAME"] = vText(name)
    draft = ("Draft: labels are not confirmed.",) if report.plan.draft else ()
    calendar["DESCRIPTION"] = vText(_plain("\n".join((*draft, *report.cautions))))


def _event(report: SeasonReport, task: Task) -> "Event":
    """One task (RFC 5545, 3.6.1): DTEND is the first day after it (3.8.2.2)."""
    status = "CANCELLED" if task.status == "cancelled" else "CONFIRMED"
    event = _all_day(report, task.uid, task.day, task.sequence, status)
    event.add("categories", [task.kind])
    event.add("summary", summary_of(report, task))
    event.add("description", _description(report, task))
    if task.repeat_of is not None:
        event.add("related-to", task.repeat_of)
    if task.status == "planned" and task.kind not in QUIET_KINDS:
        for duration in report.remind:
            event.add_component(_alarm(duration, summary_of(report, task)))
    return event


def _all_day(report: SeasonReport, uid: str, day: date, sequence: int = 0, status: str = "CONFIRMED") -> "Event":
    """An event of one day that leaves the day free (RFC 5545, 3.8.2.7)."""
    from icalendar import Event

    event = Event()
    event.add("uid", uid)
    event.add("dtstamp", datetime.combine(report.plan.made_for, time(), UTC))
    event.add("dtstart", day)
    event.add("dtend", day + timedelta(days=1))
    event.add("sequence", sequence)
    event.add("status", status)
    event.add("transp", "TRANSPARENT")
    return event


def _last_day(report: SeasonReport, sale: SaleDays, line: LastDay, day: date) -> "Event":
    """The last safe day of one label before one sale: without alarm, for nothing is to be done."""
    event = _all_day(report, line.uid, day)
    event.add("categories", ["last-safe-day"])
    draft = "" if line.confirmed else " (draft)"
    whose = f"{sale.group}, {number_text(sale.head)} head"
    event.add("summary", _plain(f"Last safe day of {line.name} for {whose} ({sale.sale}){draft}"))
    for_meat = sale.purpose in ("slaughter", "export")
    later = "A dose after it is unlawful" if for_meat else "Later is lawful, but the buyer must be told"
    lines = [
        "" if line.confirmed else "Draft: the label is not confirmed; compare its file with the leaflet in hand.",
        f"The last dose before {sale.sale} on {weekday_text(sale.day)}, counted {line.counted}. {later}.",
        *(_repeat_line(repeat) for repeat in line.repeats),
        *report.cautions,
    ]
    event.add("description", _plain("\n".join(filter(None, lines))))
    return event


def _repeat_line(repeat: RepeatDay) -> str:
    by = "there is no day for its first dose" if repeat.day is None else f"first dose by {weekday_text(repeat.day)}"
    return f"{repeat.use}, with its repeat {count_text(repeat.after_days, 'day', 'days')} later: {by}."


def _alarm(duration: str, text: str) -> "Alarm":
    """A reminder (RFC 5545, 3.6.6) so long before local midnight of the day (3.8.6.3)."""
    from icalendar import Alarm, vDuration

    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", text)
    alarm.add("trigger", vDuration.from_ical(duration))  # type: ignore[no-untyped-call]
    return alarm


def summary_of(report: SeasonReport, task: Task) -> str:
    """The event's title: what to do, group and head; done, missed, cancelled or draft at its end."""
    mark = "" if task.status == "planned" else f" ({task.status})"
    if task.status == "planned" and task.kind == "dose" and confirm_words(report, task):
        mark = " (draft)"
    return _plain(headline(report, task)) + mark


DRAFT = "Draft plan: it rests on labels that are not confirmed."


def _description(report: SeasonReport, task: Task) -> str:
    """The task in full. The usual cautions follow where a medicine is handled; a draft says so in every event."""
    is_dose = task.kind == "dose"
    lines = [
        DRAFT if report.plan.draft else "",
        task.text,
        *method_words(report, task),
        *(f"Clear: {words}." for words in clear_words(task)),
        _sentence(protection_words(task)),
        _room(report, task),
        *(f"Why: {because.text}" for because in task.because),
        *(report.cautions if is_dose else ()),
    ]
    return _plain("\n".join(filter(None, lines)))


def _room(report: SeasonReport, task: Task) -> str:
    why = report.why(task.uid)
    room = "" if why is None or why.slip is None else slip_words(report, why, task.day)
    return f"Room to move, all else as planned: {room}." if room else ""


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}." if text else ""


def _plain(text: str) -> str:
    """The text without control characters, which RFC 5545 forbids (3.1), but with its line breaks and tabs."""
    return "".join(letter for letter in text if (letter >= " " and letter != "\x7f") or letter in "\n\t")
