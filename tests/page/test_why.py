"""Why each dose stands where it does, unfolded in Chromium: no barrier, no word cut off, and it opens by key alone."""

import pytest
from playwright.sync_api import Browser

from scheduler.outputs import summary_html
from tests.outputs.test_why_page import explained
from tests.page.test_reading import ALL_OPEN, barriers


@pytest.mark.parametrize("width", [360, 1280])
def test_axe_finds_no_barrier_in_what_unfolds(width: int, browser: Browser, axe: str) -> None:
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.set_content(summary_html(explained()))
    page.evaluate(ALL_OPEN)
    page.evaluate(axe)
    found = page.evaluate("axe.run()")
    wide = page.evaluate("document.documentElement.scrollWidth")
    page.close()
    assert barriers(found) == []
    assert wide <= width


def test_a_key_unfolds_a_dose_without_script(browser: Browser) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.set_content(summary_html(explained()))
    folded = page.locator("#jobs details").filter(has_text="Next best day").first
    folded.locator("summary").focus()
    assert not folded.locator("li").first.is_visible()
    page.keyboard.press("Enter")
    assert folded.locator("li").first.is_visible()
    context.close()
