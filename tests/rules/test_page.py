"""docs/rules.md is the page that the rules make."""

import runpy
from pathlib import Path

DOCS = Path(__file__).parent.parent.parent / "docs"


def test_the_page_of_rules_is_the_one_that_the_rules_make() -> None:
    maker = runpy.run_path(str(DOCS / "make_rules.py"))
    assert (DOCS / "rules.md").read_text(encoding="utf-8") == maker["page"]()
