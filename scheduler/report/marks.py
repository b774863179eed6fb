"""What stands under the bands of a lane: doses, withdrawal up to the clear date, events; and a mob's gathers."""

from collections.abc import Iterator, Sequence, Set
from datetime import date, timedelta

from scheduler.plan import CohortLine, Task
from scheduler.report.packing import NARROWEST_PX, shortened, text_px
from scheduler.report.scale import Scale
from scheduler.report.sentences import day_month, words_of
from scheduler.report.shapes import Badge
from scheduler.report.signs import GLYPH_PX, Wanted
from scheduler.report.view import EventLine, Gather, SeasonReport
from scheduler.season.presence import GATHERING
from scheduler.words import Span

WEANED = " weaned"
"""What the name of a mob of weaned lambs ends in."""


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
    """Events of the group and the cohort's sale. Plain gathers stand in the strip of the mob."""
    return [
        *(
            Wanted(
                first=scale.middle(event.first),
                last=scale.middle(event.last),
                text=f"{day_month(event.first)} {words_of(event.what)}",
                glyph="event",
                bar="event",
            )
            for event in report.events
            if cohort.group in event.groups and event.what != "gather" and _shows(scale, event)
            if cohort.leaves is None or event.first <= cohort.leaves
        ),
        *_leaving(report, scale, cohort),
    ]


def _shows(scale: Scale, event: EventLine) -> bool:
    return event.last >= scale.start and event.first <= scale.end


def gather_signs(report: SeasonReport, scale: Scale, mob: str, groups: Set[str]) -> list[Wanted]:
    """When the mob is brought in: for doses alone, or anyway by an event of any of its groups; and today."""
    own = [
        Wanted(first=x, last=x, text=f"{day_month(gather.day)} {_what(mob, gather)}", glyph="gather-in")
        for gather in report.gathers
        if gather.event is None and gather.mob.removesuffix(WEANED) == mob and scale.holds(gather.day)
        for x in [scale.middle(gather.day)]
    ]
    free = {
        (event.first, event.what): Wanted(
            first=scale.middle(event.first),
            last=scale.middle(event.last),
            text=f"{day_month(event.first)} {words_of(event.what)}",
            glyph="free-gather",
            bar="event",
        )
        for event in report.events
        if event.what in GATHERING and not groups.isdisjoint(event.groups) and _shows(scale, event)
    }
    return [*own, *free.values(), *_today(report, scale)]


def _what(mob: str, gather: Gather) -> str:
    return "for doses" if gather.mob == mob else "weaned"


def _today(report: SeasonReport, scale: Scale) -> Iterator[Wanted]:
    today = report.plan.made_for
    if scale.holds(today):
        x = scale.middle(today)
        yield Wanted(first=x, last=x, text=f"today {day_month(today)}", kind="today")


def _leaving(report: SeasonReport, scale: Scale, cohort: CohortLine) -> list[Wanted]:
    if cohort.leaves is None or cohort.leaves < scale.start:
        return []
    sale = next((s for s in report.sales if s.name == cohort.sale and s.group == cohort.group), None)
    name = sale.name if sale else cohort.sale or "leaves"
    x = scale.middle(cohort.leaves)
    room = max(x, 100 - x) / 100 * NARROWEST_PX - GLYPH_PX
    whole = f"{day_month(cohort.leaves)} {name}{f', {sale.purpose}' if sale else ''}"
    text = whole if text_px(whole) <= room else shortened(f"{day_month(cohort.leaves)} {name}", room)
    return [Wanted(first=x, last=x, text=text, glyph="sale")]
