"""The page for those who hear it or use keys alone: axe-core (rules for WCAG 2 and good practice) finds no barrier."""

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Browser

from scheduler.outputs import summary_html
from scheduler.report import SeasonReport
from tests.outputs.plans import REPORTS
from tests.page.samples import sample

PAGES: dict[str, Callable[[], SeasonReport]] = {
    **{name: REPORTS[name] for name in ("rich", "empty", "hostile")},
    "fellside": lambda: sample("fellside"),
}
ALL_OPEN = "() => document.querySelectorAll('details').forEach(item => { item.open = true })"


def barriers(found: dict[str, Any]) -> list[tuple[str, str]]:
    """The rules that are broken, each with the first place."""
    return [(broken["id"], broken["nodes"][0]["html"]) for broken in found["violations"]]


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("name", PAGES)
def test_axe_finds_no_barrier(name: str, width: int, browser: Browser, axe: str) -> None:
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.set_content(summary_html(PAGES[name]()))
    page.evaluate(ALL_OPEN)
    page.evaluate(axe)
    found = page.evaluate("axe.run()")
    page.close()
    assert len(found["passes"]) > 15
    assert barriers(found) == []
