"""A headless Chromium for all tests of the page. On a continuous integration machine its absence is a failure."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
AXE = Path(__file__).parent.parent.parent / "node_modules" / "axe-core" / "axe.min.js"


def lacking(what: str) -> None:
    """Skips the test for what the machine lacks; fails where CI is set."""
    if os.environ.get("CI"):
        pytest.fail(what)
    pytest.skip(what)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """A headless browser."""
    if CHROMIUM is None:
        lacking("no Chromium on this machine: apt-get install chromium")
    with sync_playwright() as play:
        opened = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield opened
        opened.close()


@pytest.fixture(scope="session")
def axe() -> str:
    """The script of axe-core."""
    if not AXE.is_file():
        lacking("axe-core is not installed: npm install")
    return AXE.read_text(encoding="utf-8")
