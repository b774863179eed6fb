"""The rows under the bands of a lane: doses, withdrawal up to the clear date, and what else happens."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from scheduler.plan import CohortLine, Task
from scheduler.report.packing import NARROWEST_PX, beside, rows_of, shortened
from scheduler.report.scale import Scale
from scheduler.report.sentences import day_month, words_of
from scheduler.report.shapes import Anchor, Badge, Box, Glyph, Mark, TextKind, Words
from scheduler.report.view import SeasonReport
from scheduler.words import Span

ROW_PX = 20
GLYPH_PX = 10


@dataclass(frozen=True, slots=True)
class Row:
    """Rows of signs with their words; height in pixels, 0 where there is nothing to show."""

    boxes: tuple[Box, ...] = ()
    marks: tuple[Mark, ...] = ()
    words: tuple[Words, ...] = ()
    height: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sign:
    """Something to place: over `first` to `last`, with its text."""

    first: float
    last: float
    text: str
    glyph: Glyph | None = None
    letter: str = ""
    badge: Badge = ""
    own_gather: bool = False
    kind: TextKind = "mark"


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


def dose_rows(report: SeasonReport, scale: Scale, cohort: CohortLine, y: int) -> Row:
    """The doses of a cohort in the season, with their days."""
    letters = dict(letters_of(report))
    doses = (task for task in _doses(report, cohort) if scale.holds(task.day))
    return _placed([_dose_sign(report, scale, task, letters) for task in doses], y)


def _dose_sign(report: SeasonReport, scale: Scale, task: Task, letters: dict[str, str]) -> _Sign:
    gather = report.gather(task)
    badge: Badge = task.status if task.status in ("done", "missed") else ""
    words = (day_month(task.day), "repeat" if task.repeat_of else "", badge)
    x = scale.middle(task.day)
    return _Sign(
        first=x,
        last=x,
        text=" ".join(filter(None, words)),
        glyph="repeat" if task.repeat_of else "dose",
        letter=letters.get(task.label or "", ""),
        badge=badge,
        own_gather=gather is not None and gather.event is None,
    )


def withdrawal_rows(report: SeasonReport, scale: Scale, cohort: CohortLine, y: int) -> Row:
    """Bars from the dose to the day before the clear date for meat; overlapping ones are one."""
    signs = []
    for span in _joined(_withdrawals(_doses(report, cohort))):
        clear = span.last + timedelta(days=1)
        if span.first > scale.end or span.last < scale.start:
            continue
        signs.append(_Sign(first=scale.x(span.first), last=scale.x(clear), text=f"clear {day_month(clear)}"))
    row = _placed(signs, y)
    feet = [words.y for words in row.words]
    bars = [
        Box("withdrawal", sign.first, foot - 9, round(sign.last - sign.first, 2), 8)
        for sign, foot in zip(_in_order(signs), feet, strict=True)
    ]
    flags = [Mark("clear", sign.last, foot - 5) for sign, foot in zip(_in_order(signs), feet, strict=True)]
    return Row(tuple(bars), tuple(flags), row.words, row.height)


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


def event_rows(report: SeasonReport, scale: Scale, cohort: CohortLine, y: int) -> Row:
    """Events of the group, the cohort's sale, and today."""
    signs = [
        _Sign(
            first=scale.middle(event.first),
            last=scale.middle(event.last),
            text=f"{day_month(event.first)} {words_of(event.what)}",
            glyph="event",
        )
        for event in report.events
        if cohort.group in event.groups and event.last >= scale.start and event.first <= scale.end
    ]
    signs += _leaving(report, scale, cohort)
    today = report.plan.made_for
    if scale.holds(today):
        x = scale.middle(today)
        signs.append(_Sign(first=x, last=x, text=f"today {day_month(today)}", kind="today"))
    row = _placed(signs, y)
    bars = [
        Box("event", sign.first, words.y - 6, round(sign.last - sign.first, 2), 3)
        for sign, words in zip(_in_order(signs), row.words, strict=True)
        if sign.last > sign.first
    ]
    return Row(tuple(bars), row.marks, row.words, row.height)


def _leaving(report: SeasonReport, scale: Scale, cohort: CohortLine) -> list[_Sign]:
    if cohort.leaves is None or cohort.leaves < scale.start:
        return []
    sale = next((s for s in report.sales if s.name == cohort.sale and s.group == cohort.group), None)
    name = f"{sale.name}, {sale.purpose}" if sale else cohort.sale or "leaves"
    x = scale.middle(cohort.leaves)
    text = shortened(f"{day_month(cohort.leaves)} {name}", NARROWEST_PX / 2 - 2 * GLYPH_PX)
    return [_Sign(first=x, last=x, text=text, glyph="sale")]


def _in_order(signs: Sequence[_Sign]) -> list[_Sign]:
    return sorted(signs, key=lambda sign: sign.first)


def _placed(signs: Sequence[_Sign], y: int) -> Row:
    """Each sign in the first row with room for it; words to its right, else to its left, else upon it."""
    ordered = _in_order(signs)
    rooms = [beside(sign.first, sign.last, GLYPH_PX, sign.text) for sign in ordered]
    rows = rows_of(item for item, _ in rooms)
    marks, words = [], []
    for sign, row, (_, side) in zip(ordered, rows, rooms, strict=True):
        top = y + ROW_PX * row
        x = sign.first if side == "left" else sign.last
        anchor: Anchor = "start" if side == "right" else "end"
        words.append(Words(sign.kind, x, top + 13, sign.text, GLYPH_PX if side == "right" else -GLYPH_PX, anchor))
        if sign.glyph is not None:
            marks.append(Mark(sign.glyph, sign.first, top + 9, sign.letter, sign.badge, sign.own_gather))
    return Row((), tuple(marks), tuple(words), ROW_PX * (max(rows, default=-1) + 1))
