"""summary.html in a real browser (Chromium, if the machine has one): it fits a phone, and no words run into others."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from scheduler.outputs import summary_html
from tests.outputs.plans import REPORTS

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
WIDTHS = (360, 800, 1200)
MEETING_WORDS = """() => [...document.querySelectorAll('svg.lane')].flatMap(lane => {
  const texts = [...lane.querySelectorAll('text:not(.letter)')]
    .map(text => [text.textContent, text.getBoundingClientRect()]);
  return texts.flatMap(([name, a], n) => texts.slice(0, n)
    .filter(([_, b]) => a.x < b.x + b.width && b.x < a.x + a.width)
    .filter(([_, b]) => a.y + 3 < b.y + b.height && b.y + 3 < a.y + a.height)
    .map(([other]) => name + ' / ' + other));
})"""
WORDS_OUTSIDE = """() => [...document.querySelectorAll('svg.lane text')].filter(text => {
  const box = text.getBoundingClientRect();
  return box.left < 0 || box.right > document.documentElement.clientWidth;
}).map(text => text.textContent)"""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A headless browser."""
    with sync_playwright() as play:
        opened = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield opened
        opened.close()


@pytest.fixture(params=[(name, width) for name in REPORTS for width in WIDTHS], ids=lambda pair: f"{pair[0]}-{pair[1]}")
def page(request: pytest.FixtureRequest, browser: Browser, tmp_path: Path) -> Iterator[Page]:
    """Each report at each width of window."""
    name, width = request.param
    file = tmp_path / "summary.html"
    file.write_text(summary_html(REPORTS[name]()), encoding="utf-8")
    opened = browser.new_page(viewport={"width": width, "height": 800})
    opened.goto(file.as_uri())
    yield opened
    opened.close()


def test_the_page_does_not_scroll_sideways(page: Page) -> None:
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")


def test_no_words_of_the_picture_meet_or_leave_the_page(page: Page) -> None:
    assert page.evaluate(MEETING_WORDS) == []
    assert page.evaluate(WORDS_OUTSIDE) == []


def test_every_silhouette_fills_its_lane(page: Page) -> None:
    widths = page.evaluate("""() => [...document.querySelectorAll('svg.lane use[width]')]
        .map(use => use.getBoundingClientRect().width / use.ownerSVGElement.getBoundingClientRect().width)""")
    assert all(0.98 <= width <= 1.02 for width in widths)
