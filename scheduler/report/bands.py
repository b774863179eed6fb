"""The band of one target in a lane: how high the risk stands, what protects, and which days lie open."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from decimal import Decimal

from msgspec import Struct

from scheduler.plan import CohortLine, Run, State, Task
from scheduler.report.packing import NARROWEST_PX, text_px
from scheduler.report.scale import Scale
from scheduler.report.sentences import day_month
from scheduler.report.shapes import Box, Line, Silhouette, Tone
from scheduler.report.signs import Wanted
from scheduler.report.view import SeasonReport
from scheduler.words import Span, Target, spans_of

RISK_PX = 26
FOOT = 13 + RISK_PX
STATE_PX = 10
DOSE_PX = 4
BAND_PX = FOOT + STATE_PX + DOSE_PX + 6
WORDS_PX = 15
WORDS: dict[State, str] = {"covered": "covered", "fading": "fading from {day}", "exposed": "exposed from {day}"}
_TONES: dict[State, Tone] = {"covered": "covered", "fading": "fading", "exposed": "exposed", "away": "away"}


class Band(Struct, frozen=True, kw_only=True):
    """Shapes of one target, y from the band's top; `foot` is the line the risk stands on; words name its states."""

    target: Target
    silhouette: Silhouette
    boxes: tuple[Box, ...]
    lines: tuple[Line, ...]
    words: tuple[Wanted, ...]
    foot: int
    is_quiet: bool


def band_of(
    report: SeasonReport, scale: Scale, cohort: CohortLine, target: Target, runs: list[Run], act: Decimal
) -> Band:
    """The band of a cohort and target. Quiet: no day at risk and no dose against it, so nothing to draw."""
    doses = [
        task
        for task in report.plan.tasks
        if task.kind == "dose"
        and task.cohort == cohort.id
        and task.status in ("planned", "done")
        and target in (task.targets or ())
    ]
    states = [
        _box(_TONES[state], scale, span, FOOT + 2, STATE_PX) for state, span in state_spans(runs) if state in _TONES
    ]
    act_y = FOOT - _height(act)
    return Band(
        target=target,
        silhouette=_silhouette(scale, runs),
        boxes=(*states, *_protection(scale, doses)),
        lines=(Line("base", 0, FOOT, 100, FOOT), Line("act", 0, act_y, 100, act_y)),
        words=tuple(_words(scale, state, span) for state, span in state_spans(runs) if state in WORDS),
        foot=FOOT,
        is_quiet=not doses and all(run.state in ("low", "away") for run in runs),
    )


def _words(scale: Scale, state: State, span: Span) -> Wanted:
    """The state in words from where its bar begins; up to the bar's end where the page ends too soon."""
    text = WORDS[state].format(day=day_month(span.first))
    x = scale.x(span.first)
    if x / 100 * NARROWEST_PX + text_px(text) > NARROWEST_PX:
        x = scale.after(span.last)
    return Wanted(first=x, last=x, text=text, kind="exposed" if state == "exposed" else "state")


def state_spans(runs: Iterable[Run]) -> Iterator[tuple[State, Span]]:
    """The maximal spans of equal state, whatever the level."""
    held: tuple[State, Span] | None = None
    for run in runs:
        if held and held[0] == run.state and held[1].last + timedelta(days=1) == run.first:
            held = (run.state, Span(held[1].first, run.last))
            continue
        if held:
            yield held
        held = (run.state, Span(run.first, run.last))
    if held:
        yield held


def _height(level: Decimal) -> int:
    """Pixels of a level: none only at 0."""
    return max(int(level > 0), int(level * RISK_PX + Decimal("0.5")))


def _silhouette(scale: Scale, runs: list[Run]) -> Silhouette:
    steps: list[tuple[int, int]] = []
    for run in runs:
        height = _height(run.level)
        if not steps or steps[-1][1] != height:
            steps.append(((run.first - scale.start).days, height))
    return Silhouette(tuple(steps), scale.days, RISK_PX)


def _protection(scale: Scale, doses: list[Task]) -> Iterator[Box]:
    """Days that the doses protect, and those on which their labels may still give it: overlaps join, none adds up."""
    protected: set[date] = set()
    fading: set[date] = set()
    for task in doses:
        protects = task.protects
        if protects is None:
            continue
        if protects.first is not None and protects.last is not None:
            protected.update(Span(protects.first, protects.last).days())
        if protects.fades_until is not None:
            after = protects.last + timedelta(days=1) if protects.last else protects.first or task.day
            fading.update(Span(after, protects.fades_until).days())
    spoken: tuple[tuple[Tone, set[date]], ...] = (("fades", fading - protected), ("protects", protected))
    for tone, days in spoken:
        for span in spans_of(day for day in days if scale.holds(day)):
            yield _box(tone, scale, span, FOOT + STATE_PX + 4, DOSE_PX)


def _box(tone: Tone, scale: Scale, span: Span, y: int, height: int) -> Box:
    x = scale.x(span.first)
    return Box(tone, x, y, round(scale.after(span.last) - x, 2), height)
