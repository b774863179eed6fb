"""docs/risk.md is the page that the figures of the models make, and its pictures are there."""

import re
import runpy
from pathlib import Path

DOCS = Path(__file__).parent.parent.parent / "docs"


def test_the_page_on_risk_is_the_one_that_the_figures_make() -> None:
    maker = runpy.run_path(str(DOCS / "make_risk.py"))
    assert (DOCS / "risk.md").read_text(encoding="utf-8") == maker["page"]()


def test_every_picture_of_the_page_is_there() -> None:
    named = re.findall(r"\]\((risk-[a-z-]+\.svg)\)", (DOCS / "risk.md").read_text(encoding="utf-8"))
    assert sorted(named) == sorted(path.name for path in DOCS.glob("risk-*.svg"))
