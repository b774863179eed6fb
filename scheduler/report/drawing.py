"""The season's picture as plain numbers: one lane for each cohort, under an axis of months that they share."""

from collections.abc import Iterator
from datetime import date, timedelta

from scheduler.plan import CohortLine, Run
from scheduler.report.bands import BAND_PX, Band, band_of
from scheduler.report.marks import dose_signs, event_signs, letters_of, withdrawal_signs
from scheduler.report.packing import NARROWEST_PX, text_px
from scheduler.report.scale import Scale
from scheduler.report.sentences import MONTHS, words_of
from scheduler.report.shapes import Axis, Box, Drawing, Lane, Line, Risk, Sign, Silhouette, Words
from scheduler.report.signs import placed
from scheduler.report.view import SeasonReport
from scheduler.words import Target

AXIS_PX = 26


def drawing_of(report: SeasonReport) -> Drawing:
    """The picture of the whole season. Lanes stand in the plan's order of cohorts; equal silhouettes are kept once."""
    scale = Scale(report.plan.start, report.plan.end)
    runs: dict[tuple[str, Target], list[Run]] = {}
    for run in report.plan.days:
        runs.setdefault((run.cohort, run.target), []).append(run)
    silhouettes: dict[Silhouette, int] = {}
    lanes = []
    for cohort in report.plan.cohorts:
        bands = [
            band_of(report, scale, cohort, target, runs[cohort.id, target], act)
            for target, act in report.act_levels
            if (cohort.id, target) in runs
        ]
        lanes.append(_lane(report, scale, cohort, bands, silhouettes))
    return Drawing(
        axis=_axis(report, scale),
        lanes=tuple(lanes),
        silhouettes=tuple(silhouettes),
        letters=letters_of(report),
    )


def _lane(
    report: SeasonReport, scale: Scale, cohort: CohortLine, bands: list[Band], silhouettes: dict[Silhouette, int]
) -> Lane:
    drawn = [band for band in bands if not band.is_quiet]
    risks, boxes, lines, words = [], [], [], []
    y = AXIS_PX
    for band in drawn:
        place = silhouettes.setdefault(band.silhouette, len(silhouettes))
        risks.append(Risk(place, y + band.foot - band.silhouette.height, band.silhouette.height))
        boxes += [Box(box.tone, box.x, y + box.y, box.width, box.height) for box in band.boxes]
        lines += [Line(line.kind, line.x1, y + line.y1, line.x2, y + line.y2) for line in band.lines]
        words.append(Words("target", 0, y + 11, words_of(band.target)))
        y += BAND_PX
    signs: list[Sign] = []
    narrow_y = y
    for wanted in (dose_signs, withdrawal_signs, event_signs):
        rows = placed(wanted(report, scale, cohort), y, narrow_y)
        signs += rows.signs
        y += rows.height
        narrow_y += rows.narrow_height
    today = report.plan.made_for
    return Lane(
        cohort=cohort.id,
        height=y + 2,
        narrow_height=narrow_y + 2,
        risks=tuple(risks),
        boxes=tuple(boxes),
        lines=tuple(lines),
        words=tuple(words),
        signs=tuple(signs),
        today=scale.middle(today) if scale.holds(today) else None,
        quiet=tuple(words_of(band.target) for band in bands if band.is_quiet),
    )


def _axis(report: SeasonReport, scale: Scale) -> Axis:
    lines = [Line("axis", 0, 19, 100, 19)]
    words, grid = [], []
    for first, last in _months(scale):
        x = scale.x(first)
        grid.append(x)
        lines.append(Line("month", x, 4, x, 19))
        room = (scale.after(last) - x) / 100 * NARROWEST_PX - 3
        name = MONTHS[first.month - 1]
        text = next((text for text in (name[:3], name[0]) if text_px(text) <= room), None)
        if text:
            words.append(Words("month", x, 13, text, dx=3))
    mondays = (scale.start + timedelta(days=n) for n in range(scale.days))
    lines += [Line("week", scale.x(d), 16, scale.x(d), 19) for d in mondays if d.weekday() == 0]
    boxes = [
        Box("closed", scale.x(span.first), 20, round(scale.after(span.last) - scale.x(span.first), 2), 4)
        for span in report.closed
        if span.first <= scale.end and span.last >= scale.start
    ]
    return Axis(height=AXIS_PX, grid=tuple(grid), boxes=tuple(boxes), lines=tuple(lines), words=tuple(words))


def _months(scale: Scale) -> Iterator[tuple[date, date]]:
    """First and last day of each month within the season."""
    first = scale.start
    while first <= scale.end:
        after = (first.replace(day=28) + timedelta(days=4)).replace(day=1)
        yield first, min(after - timedelta(days=1), scale.end)
        first = after
