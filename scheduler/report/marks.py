"""What stands under the bands of a lane: doses, withdrawal up to the clear date, and what else happens."""

from collections.abc import Sequence
from datetime import date, timedelta

from scheduler.plan import CohortLine, Task
from scheduler.report.packing import NARROWEST_PX, shortened
from scheduler.report.scale import Scale
from scheduler.report.sentences import day_month, words_of
from scheduler.report.shapes import Badge
from scheduler.report.signs import GLYPH_PX, Wanted
from scheduler.report.view import SeasonReport
from scheduler.words import Span


def letters_of(report: SeasonReport) -> tuple[tuple[str, str], ...]:
    """The labels of the plan's doses with a letter each, A to Z, then AA, AB and on; in the report's order."""
    dosed = {task.label for task in report.plan.tasks if task.kind == "dose" and task.status != "cancelled"}
    known = [label.id for label in report.labels if label.id in dosed]
    names = known + sorted({name for name in dosed if name is not None} - set(known))
    return tuple((name, _letters(n)) for n, name in enumerate(names))


def _letters(n: int) -> str:
    head, tail = divmod(n, 26)
    return (_letters(head - 1) if head else "") + chr(ord("A") + tail)


def _doses(report: SeasonReport, cohort: CohortLine) -> list[Task]:
    return [
        task
        for task in report.plan.tasks
        if task.kind == "dose" and task.cohort == cohort.id and task.status != "cancelled"
    ]


def dose_signs(report: SeasonReport, scale: Scale, cohort: CohortLine) -> list[Wanted]:
    """The doses of a cohort in the season, with their days."""
    letters = dict(letters_of(report))
    doses = (task for task in _doses(report, cohort) if scale.holds(task.day))
    return [_dose_sign(report, scale, task, letters) for task in doses]


def _dose_sign(report: SeasonReport, scale: Scale, task: Task, letters: dict[str, str]) -> Wanted:
    gather = report.gather(task)
    badge: Badge = task.status if task.status in ("done", "missed") else ""
    words = (day_month(task.day), "repeat" if task.repeat_of else "", badge)
    x = scale.middle(task.day)
    return Wanted(
        first=x,
        last=x,
        text=" ".join(filter(None, words)),
        glyph="repeat" if task.repeat_of else "dose",
        letter=letters.get(task.label or "", ""),
        badge=badge,
        own_gather=gather is not None and gather.event is None,
    )


def withdrawal_signs(report: SeasonReport, scale: Scale, cohort: CohortLine) -> list[Wanted]:
    """Bars from the dose to the day before the clear date for meat; overlapping ones are one."""
    return [
        Wanted(
            first=scale.x(span.first),
            last=scale.after(span.last),
            text=f"clear {day_month(span.last + timedelta(days=1))}",
            glyph="clear",
            at_last=True,
            bar="withdrawal",
        )
        for span in _joined(_withdrawals(_doses(report, cohort)))
        if span.first <= scale.end and span.last >= scale.start
    ]


def _withdrawals(doses: Sequence[Task]) -> list[Span]:
    firsts: dict[str, date] = {}
    clears: dict[str, date] = {}
    for task in doses:
        course = task.repeat_of or task.uid
        firsts[course] = min(task.day, firsts.get(course, task.day))
        if task.clear is not None and task.clear.meat is not None:
            clears[course] = max(task.clear.meat, clears.get(course, task.clear.meat))
    return [Span(firsts[course], clear - timedelta(days=1)) for course, clear in clears.items()]


def _joined(spans: list[Span]) -> list[Span]:
    joined: list[Span] = []
    for span in sorted(spans):
        if joined and span.first <= joined[-1].last + timedelta(days=1):
            joined[-1] = Span(joined[-1].first, max(joined[-1].last, span.last))
        else:
            joined.append(span)
    return joined


def event_signs(report: SeasonReport, scale: Scale, cohort: CohortLine) -> list[Wanted]:
    """Events of the group, the cohort's sale, and today. A gather at which a dose is given goes without saying."""
    dosed = {task.day for task in _doses(report, cohort)}
    signs = [
        Wanted(
            first=scale.middle(event.first),
            last=scale.middle(event.last),
            text=f"{day_month(event.first)} {words_of(event.what)}",
            glyph="event",
            bar="event",
        )
        for event in report.events
        if cohort.group in event.groups and event.last >= scale.start and event.first <= scale.end
        if event.what != "gather" or event.first not in dosed
    ]
    signs += _leaving(report, scale, cohort)
    today = report.plan.made_for
    if scale.holds(today):
        x = scale.middle(today)
        signs.append(Wanted(first=x, last=x, text=f"today {day_month(today)}", kind="today"))
    return signs


def _leaving(report: SeasonReport, scale: Scale, cohort: CohortLine) -> list[Wanted]:
    if cohort.leaves is None or cohort.leaves < scale.start:
        return []
    sale = next((s for s in report.sales if s.name == cohort.sale and s.group == cohort.group), None)
    name = f"{sale.name}, {sale.purpose}" if sale else cohort.sale or "leaves"
    x = scale.middle(cohort.leaves)
    room = max(x, 100 - x) / 100 * NARROWEST_PX - GLYPH_PX
    text = shortened(f"{day_month(cohort.leaves)} {name}", room)
    return [Wanted(first=x, last=x, text=text, glyph="sale")]
