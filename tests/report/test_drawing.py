"""The season's picture: days in their places, and words that never run into each other, on any width of page."""

from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise

import pytest
from msgspec.structs import replace

from scheduler.report import (
    BandShapes,
    Box,
    Drawing,
    EventLine,
    Gather,
    Lane,
    Mark,
    SeasonReport,
    Strip,
    Words,
    drawing_of,
)
from scheduler.report.packing import NARROWEST_PX, WIDE_PX, text_px
from tests.outputs.pieces import END, START, cohort, dose, plan, report, runs
from tests.outputs.plans import REPORTS, hostile_report, rich_report

DAYS = 275


def lane(of: Drawing, name: str) -> Lane:
    """The lane of a cohort."""
    return next(lane for lane in of.lanes if lane.cohort == name)


def room(words: Words, width: int) -> tuple[float, float]:
    """Left and right edge of a text on a page of that width, at most."""
    x = words.x / 100 * width + words.dx
    return (x, x + text_px(words.text)) if words.anchor == "start" else (x - text_px(words.text), x)


def rows_of_signs(of: Drawing) -> list[Lane | Strip]:
    """The strips of the mobs and the lanes of the cohorts."""
    return [*(mob.strip for mob in of.mobs), *of.lanes]


def lines_of_words(drawing: Drawing, of: Lane | Strip, width: int) -> dict[int, list[Words]]:
    """The words of a lane or strip by the height of their foot, on a page of that width."""
    lines: dict[int, list[Words]] = {}
    placed = [(sign.words, 0, sign.drop) for sign in of.signs]
    for one in of.bands if isinstance(of, Lane) else ():
        band = drawing.bands[one.band]
        placed.append((band.name, one.y, one.drop))
        placed += [(sign.words, one.y, one.drop + sign.drop) for sign in band.signs]
    for words, y, drop in placed:
        lines.setdefault(y + words.y + (drop if width < WIDE_PX else 0), []).append(words)
    return lines


@pytest.mark.parametrize("width", [NARROWEST_PX, WIDE_PX - 1, WIDE_PX, 1000])
@pytest.mark.parametrize("name", REPORTS)
def test_no_words_of_a_line_meet(name: str, width: int) -> None:
    drawing = drawing_of(REPORTS[name]())
    lines = [list(drawing.axis.words)]
    lines += [words for rows in rows_of_signs(drawing) for words in lines_of_words(drawing, rows, width).values()]
    for words in lines:
        rooms = sorted(room(text, width) for text in words)
        assert all(before[1] <= after[0] for before, after in pairwise(rooms))


@pytest.mark.parametrize("width", [NARROWEST_PX, WIDE_PX])
@pytest.mark.parametrize("name", REPORTS)
def test_lines_of_words_keep_their_distance(name: str, width: int) -> None:
    drawing = drawing_of(REPORTS[name]())
    for rows in rows_of_signs(drawing):
        feet = sorted(lines_of_words(drawing, rows, width))
        assert all(below - above >= 12 for above, below in pairwise(feet))
        assert all(foot < (rows.height if width == WIDE_PX else rows.narrow_height) for foot in feet)


@pytest.mark.parametrize("width", [NARROWEST_PX, 1000])
@pytest.mark.parametrize("name", REPORTS)
def test_no_word_leaves_the_page(name: str, width: int) -> None:
    drawing = drawing_of(REPORTS[name]())
    for rows in rows_of_signs(drawing):
        for words in [words for line in lines_of_words(drawing, rows, width).values() for words in line]:
            left, right = room(words, width)
            assert left >= 0
            assert right <= width


def boxes_of(drawing: Drawing, of: Lane) -> list[Box]:
    """The bars of bands and signs, in their places on a wide page."""
    bands = [(one.y, drawing.bands[one.band]) for one in of.bands]
    within = [replace(box, y=y + box.y) for y, band in bands for box in band.boxes]
    return [*within, *(sign.bar for sign in of.signs if sign.bar)]


def marks_of(of: Lane) -> list[Mark]:
    """The marks of the signs."""
    return [sign.mark for sign in of.signs if sign.mark]


@pytest.mark.parametrize("name", REPORTS)
def test_everything_stands_within_its_lane(name: str) -> None:
    drawing = drawing_of(REPORTS[name]())
    for lane in drawing.lanes:
        for box in boxes_of(drawing, lane):
            assert 0 <= box.x <= box.x + box.width <= 100.01
            assert box.y + box.height <= lane.height
        assert all(0 <= mark.x <= 100 and mark.y <= lane.height for mark in marks_of(lane))


def spans(drawing: Drawing, lane: Lane, tone: str) -> list[tuple[date, date]]:
    """The days that the boxes of a tone stand over."""
    found = []
    for box in boxes_of(drawing, lane):
        if box.tone == tone:
            first = START + timedelta(days=round(box.x * DAYS / 100))
            found.append((first, first + timedelta(days=round(box.width * DAYS / 100) - 1)))
    return found


def test_bands_stand_over_the_days_of_the_plan() -> None:
    told = rich_report()
    drawing = drawing_of(told)
    for state in ("covered", "fading", "exposed"):
        for line in drawing.lanes:
            wanted = [
                (run.first, run.last) for run in told.plan.days if run.cohort == line.cohort and run.state == state
            ]
            assert spans(drawing, line, state) == wanted


def test_protection_and_withdrawal_stand_over_their_days() -> None:
    drawing = drawing_of(rich_report())
    drafts = lane(drawing, "Top lambs/Autumn draft")
    assert spans(drawing, drafts, "protects") == [(date(2027, 5, 27), date(2027, 7, 28))] * 2  # first dose and repeat
    assert spans(drawing, drafts, "fades") == [(date(2027, 7, 29), date(2027, 8, 11))] * 2
    assert spans(drawing, drafts, "withdrawal") == [(date(2027, 5, 27), date(2027, 6, 25))]  # clear on 26 June


def test_doses_carry_letter_badge_and_gather() -> None:
    drawing = drawing_of(rich_report())
    assert drawing.letters == (("hill-pour-on", "A"), ("tick-dip", "B"))
    ewes = [mark for mark in marks_of(lane(drawing, "Ewes/stay")) if mark.letter]
    assert [(mark.glyph, mark.letter, mark.badge, mark.own_gather) for mark in ewes] == [
        ("dose", "B", "done", False),
        ("dose", "A", "", True),
    ]
    keepers = [mark for mark in marks_of(lane(drawing, "Top lambs/stay")) if mark.letter]
    assert [mark.badge for mark in keepers] == ["missed"]


def test_a_target_without_risk_or_dose_has_no_band_but_is_named() -> None:
    drawing = drawing_of(rich_report())
    assert lane(drawing, "Top lambs/stay").quiet == ("blowfly strike", "ticks")
    assert lane(drawing, "Ewes/stay").quiet == ()


def test_today_is_drawn_only_within_the_season() -> None:
    told = rich_report()
    early = replace(told, plan=replace(told.plan, made_for=START - timedelta(days=1)))
    assert drawing_of(told).today == 29.27  # 20 May: 80.5 of 275 days
    assert drawing_of(early).today is None


def test_a_wide_page_needs_no_more_height_than_a_narrow_one() -> None:
    lanes = drawing_of(REPORTS["large"]()).lanes
    assert all(lane.height < lane.narrow_height for lane in lanes)
    assert all(band.drop >= 0 for lane in lanes for band in lane.bands)


def test_equal_silhouettes_and_bands_are_kept_once() -> None:
    drawing = drawing_of(REPORTS["large"]())
    assert len(drawing.silhouettes) == 1
    assert len(drawing.bands) == 3
    assert [len(lane.bands) for lane in drawing.lanes] == [3] * 20


def test_a_level_above_nothing_is_seen() -> None:
    whose = cohort("Ewes", 3)
    days = tuple(runs(whose, "ticks", (START, "0.01", "low"), (date(2027, 4, 1), "1", "exposed")))
    (silhouette,) = drawing_of(report(plan(cohorts=(whose,), days=days))).silhouettes
    assert silhouette.steps == ((0, 1), (31, silhouette.height))


def test_a_season_across_the_years_end_is_drawn_from_end_to_end() -> None:
    whose = cohort("Ewes", 3)
    start, end = date(2027, 9, 1), date(2028, 5, 31)
    made = replace(plan(start=start, end=end), cohorts=(whose,), tasks=(dose(whose, end),), made_for=start)
    drawing = drawing_of(report(made))
    assert [words.text for words in drawing.axis.words] == [
        "Sep",
        "Oct",
        "Nov",
        "Dec",
        "Jan",
        "Feb",
        "Mar",
        "Apr",
        "May",
    ]
    (mark,) = [mark for mark in marks_of(drawing.lanes[0]) if mark.letter]
    assert mark.x == pytest.approx(100 * 273.5 / 274, abs=0.01)


def test_what_lies_outside_the_season_is_not_drawn() -> None:
    whose = cohort("Ewes", 3)
    tasks = (dose(whose, START - timedelta(days=90), status="missed"), dose(whose, END + timedelta(days=5)))
    drawing = drawing_of(report(plan(cohorts=(whose,), tasks=tasks)))
    assert [mark for mark in marks_of(drawing.lanes[0]) if mark.letter] == []
    assert spans(drawing, drawing.lanes[0], "withdrawal") == []


def told_words(of: Lane | Strip | BandShapes, kind: str) -> list[str]:
    """The words of a kind."""
    return [sign.words.text for sign in of.signs if sign.words.kind == kind]


def test_what_a_state_means_stands_in_words_under_its_bar() -> None:
    drawing = drawing_of(rich_report())
    strike, ticks = [drawing.bands[one.band] for one in lane(drawing, "Top lambs/Autumn draft").bands]
    assert (strike.name.text, told_words(strike, "state")) == ("blowfly strike", ["covered", "fading from 29 Jul"])
    assert (told_words(strike, "exposed"), told_words(ticks, "state")) == (["exposed from 12 Aug"], ["covered"])
    assert told_words(ticks, "exposed") == ["exposed from 10 Apr"]


def test_lanes_stand_by_mob_under_a_strip_of_its_gathers() -> None:
    hill, parks = cohort("Ewes", 3), cohort("Hoggs", 4, mob="Park")
    other = cohort("Ewes", 2, "Cast ewes", date(2027, 10, 1))
    gathers = (
        Gather(mob="Hill", day=date(2027, 6, 1), cohorts=(), event=None),
        Gather(mob="Hill weaned", day=date(2027, 9, 1), cohorts=(), event=None),
        Gather(mob="Hill", day=date(2027, 7, 1), cohorts=(), event="shearing"),
    )
    events = (
        EventLine(what="shearing", first=date(2027, 7, 1), last=date(2027, 7, 2), groups=("Ewes",)),
        EventLine(what="lambing", first=date(2027, 4, 1), last=date(2027, 4, 20), groups=("Ewes",)),
    )
    drawing = drawing_of(report(plan(cohorts=(hill, parks, other)), gathers=gathers, events=events))
    assert [(mob.mob, mob.groups, len(mob.lanes)) for mob in drawing.mobs] == [
        ("Hill", ("Ewes",), 2),
        ("Park", ("Hoggs",), 1),
    ]
    words = ["1 Jun for doses", "1 Jul shearing", "1 Sep weaned"]
    assert told_words(drawing.mobs[0].strip, "mark") == words
    assert told_words(drawing.mobs[1].strip, "mark") == []


def test_what_happens_after_the_sheep_have_left_is_not_drawn() -> None:
    gone = cohort("Lambs", 3, "Draft", date(2027, 8, 1))
    weaning = EventLine(what="weaning", first=date(2027, 8, 2), last=date(2027, 8, 2), groups=("Lambs",))
    drawing = drawing_of(report(plan(cohorts=(gone,)), events=(weaning,)))
    assert told_words(drawing.lanes[0], "mark") == ["1 Aug Draft"]


def test_closed_days_stand_under_the_axis() -> None:
    axis = drawing_of(rich_report()).axis
    assert len(axis.boxes) == 39  # Sundays from 7 March to 28 November 2027
    assert {box.tone for box in axis.boxes} == {"closed"}


def test_a_hostile_name_is_cut_to_its_room() -> None:
    told: SeasonReport = hostile_report()
    (sale,) = [sign.words.text for sign in drawing_of(told).lanes[0].signs if sign.words.text.startswith("1 Sep")]
    assert text_px(sale) <= NARROWEST_PX


def test_act_level_and_risk_share_their_foot() -> None:
    told = report(rich_report().plan, act_levels=(("ticks", Decimal("0.5")),))
    (band,) = drawing_of(told).bands[:1]
    risk = band.risk
    base = next(line for line in band.lines if line.kind == "base")
    act = next(line for line in band.lines if line.kind == "act")
    assert risk.y + risk.height == base.y1
    assert base.y1 - act.y1 == risk.height / 2
