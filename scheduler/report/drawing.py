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
    PlacedBand,
    Risk,
    Sign,
    Silhouette,
    Strip,
    Words,
)
from scheduler.report.signs import Rows, placed
from scheduler.report.view import SeasonReport
from scheduler.words import Target

AXIS_PX = 26
BELOW_PX = 4


class _Kept:
    """Equal bands and silhouettes, each once, in the order in which they first come."""

    def __init__(self) -> None:
        self.bands: dict[BandShapes, int] = {}
        self.silhouettes: dict[Silhouette, int] = {}

    def band(self, band: Band) -> tuple[int, Rows]:
        """The number of the band's shapes, and the rows of its words."""
        height = band.silhouette.height
        silhouette = self.silhouettes.setdefault(band.silhouette, len(self.silhouettes))
        rows = placed(band.words, BAND_PX, BAND_PX, WORDS_PX)
        shapes = BandShapes(
            name=Words("target", 0, 11, words_of(band.target)),
            risk=Risk(silhouette, band.foot - height, height),
            boxes=band.boxes,
            lines=band.lines,
            signs=rows.signs,
        )
        return self.bands.setdefault(shapes, len(self.bands)), rows


def drawing_of(report: SeasonReport) -> Drawing:
    """The picture of the whole season: lanes by mob, in the plan's order of cohorts."""
    scale = Scale(report.plan.start, report.plan.end)
    today = report.plan.made_for
    runs: dict[tuple[str, Target], list[Run]] = {}
    for run in report.plan.days:
        runs.setdefault((run.cohort, run.target), []).append(run)
    mobs: dict[str, list[CohortLine]] = {}
    for cohort in report.plan.cohorts:
        mobs.setdefault(cohort.mob, []).append(cohort)
    kept = _Kept()
    lanes = {
        mob: tuple(_lane(report, scale, cohort, _bands(report, scale, cohort, runs), kept) for cohort in cohorts)
        for mob, cohorts in mobs.items()
    }
    return Drawing(
        axis=_axis(report, scale),
        mobs=tuple(_mob(report, scale, mob, cohorts, lanes[mob]) for mob, cohorts in mobs.items()),
        today=scale.middle(today) if scale.holds(today) else None,
        bands=tuple(kept.bands),
        silhouettes=tuple(kept.silhouettes),
        letters=letters_of(report),
    )


def _mob(report: SeasonReport, scale: Scale, mob: str, cohorts: list[CohortLine], lanes: tuple[Lane, ...]) -> MobLanes:
    groups = tuple(dict.fromkeys(cohort.group for cohort in cohorts))
    rows = placed(gather_signs(report, scale, mob, frozenset(groups)), AXIS_PX, AXIS_PX)
    strip = Strip(height=AXIS_PX + rows.height, narrow_height=AXIS_PX + rows.narrow_height, signs=rows.signs)
    return MobLanes(mob=mob, groups=groups, strip=strip, lanes=lanes)


def _bands(
    report: SeasonReport, scale: Scale, cohort: CohortLine, runs: dict[tuple[str, Target], list[Run]]
) -> list[Band]:
    return [
        band_of(report, scale, cohort, target, runs[cohort.id, target], act)
        for target, act in report.act_levels
        if (cohort.id, target) in runs
    ]


def _lane(report: SeasonReport, scale: Scale, cohort: CohortLine, bands: list[Band], kept: _Kept) -> Lane:
    drawn: list[PlacedBand] = []
    y = narrow_y = AXIS_PX
    for band in bands:
        if not band.is_quiet:
            number, rows = kept.band(band)
            drawn.append(PlacedBand(number, y, narrow_y - y))
            y += BAND_PX + rows.height + BELOW_PX
            narrow_y += BAND_PX + rows.narrow_height + BELOW_PX
    signs: list[Sign] = []
    for wanted in (dose_signs, withdrawal_signs, event_signs):
        rows = placed(wanted(report, scale, cohort), y, narrow_y)
        signs += rows.signs
        y += rows.height
        narrow_y += rows.narrow_height
    return Lane(
        cohort=cohort.id,
        height=y + 2,
        narrow_height=narrow_y + 2,
        bands=tuple(drawn),
        signs=tuple(signs),
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
