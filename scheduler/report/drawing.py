"""The season's picture as plain numbers: one lane for each cohort, mob by mob, each under the same axis of months."""

from collections.abc import Iterator
from datetime import date, timedelta

from scheduler.plan import CohortLine, Run
from scheduler.report.bands import BAND_PX, WORDS_PX, Band, band_of
from scheduler.report.marks import dose_signs, event_signs, gather_signs, letters_of, withdrawal_signs
from scheduler.report.packing import NARROWEST_PX, text_px
from scheduler.report.scale import Scale
from scheduler.report.sentences import MONTHS, words_of
from scheduler.report.shapes import (
    Axis,
    BandShapes,
    Box,
    Drawing,
    Lane,
    Line,
    MobLanes,
    Risk,
    Sign,
    Silhouette,
    Strip,
    Words,
)
from scheduler.report.signs import placed
from scheduler.report.view import SeasonReport
from scheduler.words import Target

AXIS_PX = 26


def drawing_of(report: SeasonReport) -> Drawing:
    """The picture of the whole season: lanes by mob, in the plan's order of cohorts; equal silhouettes kept once."""
    scale = Scale(report.plan.start, report.plan.end)
    today = report.plan.made_for
    runs: dict[tuple[str, Target], list[Run]] = {}
    for run in report.plan.days:
        runs.setdefault((run.cohort, run.target), []).append(run)
    silhouettes: dict[Silhouette, int] = {}
    mobs: dict[str, list[CohortLine]] = {}
    for cohort in report.plan.cohorts:
        mobs.setdefault(cohort.mob, []).append(cohort)
    return Drawing(
        axis=_axis(report, scale),
        mobs=tuple(
            MobLanes(
                mob=mob,
                groups=tuple(dict.fromkeys(cohort.group for cohort in cohorts)),
                strip=_strip(report, scale, mob, cohorts),
                lanes=tuple(
                    _lane(report, scale, cohort, _bands(report, scale, cohort, runs), silhouettes) for cohort in cohorts
                ),
            )
            for mob, cohorts in mobs.items()
        ),
        today=scale.middle(today) if scale.holds(today) else None,
        silhouettes=tuple(silhouettes),
        letters=letters_of(report),
    )


def _bands(
    report: SeasonReport, scale: Scale, cohort: CohortLine, runs: dict[tuple[str, Target], list[Run]]
) -> list[Band]:
    return [
        band_of(report, scale, cohort, target, runs[cohort.id, target], act)
        for target, act in report.act_levels
        if (cohort.id, target) in runs
    ]


def _strip(report: SeasonReport, scale: Scale, mob: str, cohorts: list[CohortLine]) -> Strip:
    groups = {cohort.group for cohort in cohorts}
    rows = placed(gather_signs(report, scale, mob, groups), AXIS_PX, AXIS_PX)
    return Strip(height=AXIS_PX + rows.height, narrow_height=AXIS_PX + rows.narrow_height, signs=rows.signs)


def _lane(
    report: SeasonReport, scale: Scale, cohort: CohortLine, bands: list[Band], silhouettes: dict[Silhouette, int]
) -> Lane:
    shapes: list[BandShapes] = []
    signs: list[Sign] = []
    y = narrow_y = AXIS_PX
    for band in bands:
        if band.is_quiet:
            continue
        place = silhouettes.setdefault(band.silhouette, len(silhouettes))
        shapes.append(_shapes(band, place, y, narrow_y - y))
        rows = placed(band.words, y + BAND_PX, narrow_y + BAND_PX, WORDS_PX)
        signs += rows.signs
        y += BAND_PX + rows.height + 4
        narrow_y += BAND_PX + rows.narrow_height + 4
    for wanted in (dose_signs, withdrawal_signs, event_signs):
        rows = placed(wanted(report, scale, cohort), y, narrow_y)
        signs += rows.signs
        y += rows.height
        narrow_y += rows.narrow_height
    return Lane(
        cohort=cohort.id,
        height=y + 2,
        narrow_height=narrow_y + 2,
        bands=tuple(shapes),
        signs=tuple(signs),
        quiet=tuple(words_of(band.target) for band in bands if band.is_quiet),
    )


def _shapes(band: Band, silhouette: int, y: int, drop: int) -> BandShapes:
    height = band.silhouette.height
    return BandShapes(
        name=Words("target", 0, y + 11, words_of(band.target)),
        risk=Risk(silhouette, y + band.foot - height, height),
        boxes=tuple(Box(box.tone, box.x, y + box.y, box.width, box.height) for box in band.boxes),
        lines=tuple(Line(line.kind, line.x1, y + line.y1, line.x2, y + line.y2) for line in band.lines),
        drop=drop,
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
