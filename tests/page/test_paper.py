"""The page on paper, as Chromium prints it: A4, picture and wall calendar landscape, no lane cut, job sheets apart."""

import io
import re
from collections.abc import Callable
from dataclasses import dataclass
from itertools import takewhile

import pytest
from playwright.sync_api import Browser
from pypdf import PdfReader

from scheduler.outputs import summary_html
from scheduler.report import SeasonReport, drawing_of, job_sheets, month_pages, month_text, weekday_text
from scheduler.words import say_day
from tests.outputs.plans import REPORTS
from tests.page.farms import farm_of
from tests.page.samples import sample

A4 = (595, 842)
LYING = (842, 595)
FARMS: dict[str, Callable[[], SeasonReport]] = {
    "rich": REPORTS["rich"],
    "empty": REPORTS["empty"],
    "hostile": REPORTS["hostile"],
    "fellside": lambda: sample("fellside"),
    "five": lambda: farm_of(5),
}
BEGINS_A_LANE = re.compile(r"^(Mob .*|.*: [\d,]+ head, \w+.*)$")


@dataclass(frozen=True)
class Printed:
    """A printed page: width and height in points, its lines but for its number, and that."""

    size: tuple[int, int]
    lines: tuple[str, ...]
    number: str


@pytest.fixture(scope="module", params=FARMS)
def paper(request: pytest.FixtureRequest, browser: Browser) -> tuple[SeasonReport, list[Printed]]:
    """Each farm with its printed pages."""
    told = FARMS[request.param]()
    page = browser.new_page()
    page.set_content(summary_html(told))
    pdf = page.pdf(prefer_css_page_size=True)
    page.close()
    return told, pages_of(pdf)


def pages_of(pdf: bytes) -> list[Printed]:
    """The pages of a document as pypdf, a reader that is not ours, finds them."""
    found = []
    for page in PdfReader(io.BytesIO(pdf)).pages:
        lines = [line.strip() for line in page.extract_text().splitlines() if line.strip()]
        numbers = [line for line in lines if re.fullmatch(r"page \d+ of \d+", line)]
        told = tuple(line for line in lines if line not in numbers)
        found.append(Printed((round(page.mediabox.width), round(page.mediabox.height)), told, "".join(numbers)))
    return found


def picture(pages: list[Printed]) -> list[Printed]:
    """The pages of the drawn season."""
    begin = next(number for number, page in enumerate(pages) if page.lines[0] == "The season drawn")
    return list(takewhile(lambda page: page.size == LYING, pages[begin:]))


def test_all_pages_are_a4_and_picture_and_wall_calendar_lie(paper: tuple[SeasonReport, list[Printed]]) -> None:
    told, pages = paper
    months = [month_text(month.first) for month in month_pages(told)]
    lying = sum(page.size == LYING for page in pages)
    assert {page.size for page in pages} <= {A4, LYING}
    assert 1 <= len(picture(pages)) <= 1 + len(drawing_of(told).lanes)
    assert lying == len(picture(pages)) + len(months)


def test_no_lane_is_cut(paper: tuple[SeasonReport, list[Printed]]) -> None:
    for page in picture(paper[1])[1:]:
        assert BEGINS_A_LANE.match(page.lines[0])


def test_every_lane_is_printed(paper: tuple[SeasonReport, list[Printed]]) -> None:
    told, pages = paper
    text = "\n".join(line for page in picture(pages) for line in page.lines)
    for whose in told.plan.cohorts:
        assert f": {whose.head:,} head, {whose.kind}" in text


def test_each_month_of_the_wall_calendar_has_a_page_of_its_own(paper: tuple[SeasonReport, list[Printed]]) -> None:
    told, pages = paper
    first = [line for page in pages if page.size == LYING for line in page.lines[:2]]
    for month in month_pages(told):
        assert first.count(month_text(month.first)) == 1


def test_each_job_sheet_begins_a_page(paper: tuple[SeasonReport, list[Printed]]) -> None:
    told, pages = paper
    first = [line for page in pages for line in page.lines[:2]]
    for sheet in job_sheets(told):
        assert f"{weekday_text(sheet.day)}: {sheet.head:,} head" in first


def test_pages_are_numbered_to_the_last(paper: tuple[SeasonReport, list[Printed]]) -> None:
    pages = paper[1]
    assert [page.number for page in pages] == [f"page {n} of {len(pages)}" for n in range(1, len(pages) + 1)]


def test_each_month_on_the_wall_says_whose_plan_it_is_that_it_is_a_draft_and_what_comes_first(
    paper: tuple[SeasonReport, list[Printed]],
) -> None:
    told, pages = paper
    months = [month_text(month.first) for month in month_pages(told)]
    walls = [" ".join(page.lines) for page in pages if page.size == LYING and set(page.lines[:2]) & set(months)]
    assert len(walls) == len(months)
    for wall in walls:
        assert f"plan made for {say_day(told.plan.made_for)}" in wall
        assert ("Draft: labels are not" in wall) is told.plan.draft
        assert "in hand, the vet and the law come before this calendar." in wall
