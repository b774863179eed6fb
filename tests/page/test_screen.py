"""The page on a phone and on a desk: nothing runs over, no words of the picture meet, nothing is asked for or said."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from scheduler.outputs import summary_html
from tests.outputs.plans import REPORTS
from tests.page.farms import farm_of

WIDTHS = (360, 1280)
UNFOLD = """() => document.querySelectorAll('svg.lane use').forEach(use => {
  if (!/^#(axis|b\\d+)$/.test(use.getAttribute('href'))) return;
  const kept = document.querySelector(use.getAttribute('href'));
  const place = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  place.setAttribute('y', use.getAttribute('y') || 0);
  place.append(kept.cloneNode(true));
  use.replaceWith(place);
})"""
"""Puts what is kept once and shown often where it shows, for a script finds no boxes in what `use` shows."""
MEETING_WORDS = """() => [...document.querySelectorAll('svg.lane')].flatMap(lane => {
  const texts = [...lane.querySelectorAll('text:not(.letter)')]
    .map(text => [text.textContent, text.getBoundingClientRect()]);
  return texts.flatMap(([name, a], n) => texts.slice(0, n)
    .filter(([_, b]) => a.x < b.x + b.width && b.x < a.x + a.width)
    .filter(([_, b]) => a.y + 3 < b.y + b.height && b.y + 3 < a.y + a.height)
    .map(([other]) => name + ' / ' + other));
})"""
WORDS_OUTSIDE = """() => [...document.querySelectorAll('svg.lane text:not(.letter)')].filter(text => {
  const box = text.getBoundingClientRect(), lane = text.closest('svg.lane').getBoundingClientRect();
  return box.left < 0 || box.right > document.documentElement.clientWidth
    || box.top < lane.top - 3 || box.bottom > lane.bottom + 3;
}).map(text => text.textContent)"""
LANES_MEETING = """() => [...document.querySelectorAll('svg.lane')].map(lane => lane.getBoundingClientRect())
  .filter((box, n, all) => n && box.top < all[n - 1].bottom).length"""
RUNS_OVER = "() => document.documentElement.scrollWidth > window.innerWidth"
COUNT = "() => document.querySelectorAll('svg.lane text').length"


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A tab without a page."""
    opened = browser.new_page()
    yield opened
    opened.close()


def picture(groups: int) -> str:
    """The page of a farm of so many groups, down to its picture."""
    head, rest = summary_html(farm_of(groups)).split('<section id="jobs"')
    return head + rest[rest.index("</main>") :]


def widened(page: Page, width: int) -> Page:
    """The page at a width of window."""
    page.set_viewport_size({"width": width, "height": 800})
    return page


@pytest.mark.parametrize("name", REPORTS)
def test_it_fits_loads_nothing_and_says_nothing(name: str, page: Page, tmp_path: Path) -> None:
    file = tmp_path / "summary.html"
    file.write_text(summary_html(REPORTS[name]()), encoding="utf-8")
    asked: list[str] = []
    said: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(file.as_uri())
    assert not any(widened(page, width).evaluate(RUNS_OVER) for width in WIDTHS)
    page.evaluate(UNFOLD)
    for width in WIDTHS:
        assert widened(page, width).evaluate(MEETING_WORDS) == []
        assert page.evaluate(WORDS_OUTSIDE) == []
    assert (asked, said) == ([file.as_uri()], [])


@pytest.mark.parametrize("groups", range(1, 31))
def test_no_words_of_the_picture_meet_or_leave_their_lane(groups: int, page: Page) -> None:
    page.set_content(picture(groups))
    page.evaluate(UNFOLD)
    for width in WIDTHS:
        assert not widened(page, width).evaluate(RUNS_OVER)
        assert page.evaluate(COUNT) > 10 * groups
        assert page.evaluate(MEETING_WORDS) == []
        assert page.evaluate(WORDS_OUTSIDE) == []
        assert page.evaluate(LANES_MEETING) == 0


def test_every_silhouette_fills_its_lane(page: Page) -> None:
    page.set_content(summary_html(REPORTS["rich"]()))
    page.evaluate(UNFOLD)
    widths = widened(page, 1280).evaluate("""() => [...document.querySelectorAll('svg.lane use[width]')]
        .map(use => use.getBoundingClientRect().width / use.closest('svg.lane').getBoundingClientRect().width)""")
    assert widths
    assert all(0.98 <= width <= 1.02 for width in widths)


@pytest.mark.parametrize("width", WIDTHS)
def test_what_is_put_in_place_to_be_measured_looks_as_it_did(width: int, page: Page) -> None:
    widened(page, width).set_content(summary_html(REPORTS["rich"]()))
    before = page.screenshot(full_page=True)
    page.evaluate(UNFOLD)
    assert page.screenshot(full_page=True) == before
