"""Which sales the rules on meat and export are about, and what a sale bars. Days are of May 2027."""

from datetime import date

import pytest

from scheduler.season import Course, SaleBar, export_binds, is_for_meat, sale_bar
from scheduler.words import PURPOSES, Purpose
from tests.plan.flock import dose, label, may, settings
from tests.season.hill import cohort, lambs, sale, season


@pytest.mark.parametrize("purpose", PURPOSES)
@pytest.mark.parametrize("goes_abroad", [True, False])
def test_meat_and_export_rules_bind_by_purpose_and_group(purpose: Purpose, goes_abroad: bool) -> None:
    of = season(groups=(lambs(export=goes_abroad),), sales=(sale("Mart", 10, may(40), purpose=purpose),))
    sold, kept = cohort(of, "Lambs/Mart"), cohort(of, "Lambs/stay")
    assert is_for_meat(sold) == (purpose in ("slaughter", "export"))
    assert export_binds(sold) == (purpose == "export" or (purpose == "slaughter" and goes_abroad))
    assert not is_for_meat(kept)
    assert not export_binds(kept)


@pytest.mark.parametrize(
    ("day", "margin", "clear"),
    [(11, 0, None), (12, 0, may(21)), (10, 1, None), (11, 1, may(20)), (19, 0, may(28)), (20, 0, None)],
)
def test_a_sale_bars_doses_that_are_not_clear_by_then(day: int, margin: int, clear: date | None) -> None:
    """8 days for meat, sold on the 20th: 11 + 8 + 1 = 20; from the sale on they are gone, which is another rule's."""
    of = season(sales=(sale("Mart", 10, may(20), purpose="slaughter"),), labels={"fly": label()},
                settings=settings(sale_margin_days=margin))  # fmt: skip
    bar = sale_bar(of, Course(first=dose(of, may(day), cohort=cohort(of, "Lambs/Mart"))))
    assert bar == (None if clear is None else SaleBar("meat-withdrawal", clear, 8))
