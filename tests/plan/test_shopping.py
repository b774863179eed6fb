"""Shopping: whole packs over what stock does not cover."""

from datetime import date
from decimal import Decimal
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.farm import StockRow
from scheduler.labels import Pack
from scheduler.plan.packs import least_packs
from scheduler.plan.shopping import shopping_of
from scheduler.season import Doses, Season
from scheduler.words import Where
from tests.plan import flock
from tests.plan.flock import BEFORE, closed, dose, farm, label, may, of_kind, tasks_of

PACK = st.builds(
    Pack,
    ml=st.sampled_from([Decimal(n) for n in ("50", "99.5", "100", "250", "400")]),
    price=st.integers(0, 40).map(Decimal),
)
PACKS = st.lists(PACK, min_size=1, max_size=3, unique_by=lambda pack: pack.ml)


def stock(ml: int, **changed: object) -> StockRow:
    """A row of stock.csv."""
    return StockRow(**{"label": "fly", "ml": Decimal(ml), "where": Where("stock.csv", 2)} | changed)  # type: ignore[arg-type]


def least_by_trying(packs: list[Pack], ml: Decimal) -> tuple[Decimal, int]:
    """Least (money, packs) over all counts that reach the amount."""
    most = [range(int(ml / pack.ml) + 2) for pack in packs]
    return min(
        (sum((pack.price * n for pack, n in zip(packs, counts, strict=True)), Decimal(0)), sum(counts))
        for counts in product(*most)
        if sum((pack.ml * n for pack, n in zip(packs, counts, strict=True)), Decimal(0)) >= ml
    )


@settings(max_examples=300, deadline=None)
@given(PACKS, st.integers(1, 900).map(Decimal))
def test_packs_cost_the_least_and_are_then_the_fewest(packs: list[Pack], ml: Decimal) -> None:
    found = least_packs(packs, ml)
    assert sum(pack.ml * count for pack, count in found) >= ml
    cost = sum((pack.price * count for pack, count in found), Decimal(0))
    assert (cost, sum(count for _, count in found)) == least_by_trying(packs, ml)


def test_a_small_pack_is_found_after_larger_ones_that_are_cheaper_a_millilitre() -> None:
    packs = [Pack(ml=Decimal(ml), price=Decimal(price)) for ml, price in (("50", 3), ("99.5", 4), ("100", 5))]
    assert [(int(pack.ml), count) for pack, count in least_packs(packs, Decimal(1))] == [(50, 1)]


def test_a_large_amount_of_equally_dear_packs_is_settled_by_their_number() -> None:
    packs = [Pack(ml=Decimal(size), price=Decimal(size) / 100) for size in (1000, 2500, 5000, 10000)]
    found = least_packs(packs, Decimal(999_999))
    assert [(int(pack.ml), count) for pack, count in found] == [(10000, 100)]


def test_where_stock_reaches_nothing_is_bought() -> None:
    season = Season(farm(stock=(stock(500),)), BEFORE)
    (line,) = shopping_of(season, Doses([dose(season, may(20))]))
    assert (int(line.ml), int(line.in_stock_ml)) == (500, 500)
    assert (line.packs, line.money_minor, line.order_by) == ((), 0, None)


def test_what_is_short_is_bought_in_whole_packs_before_the_first_short_day() -> None:
    season = Season(farm(stock=(stock(700),)), BEFORE)
    (line,) = shopping_of(season, Doses([dose(season, may(20)), dose(season, may(70))]))
    assert [(int(pack.ml), pack.count) for pack in line.packs] == [(2500, 1)]
    assert (int(line.ml), int(line.in_stock_ml)) == (1000, 700)
    assert (line.money_minor, line.order_by) == (9200, may(65))


def test_the_order_stands_on_the_open_day_before_a_closed_one() -> None:
    season = Season(farm(settings=flock.settings(closed=closed(may(14), may(15)))), BEFORE)
    (line,) = shopping_of(season, Doses([dose(season, may(20))]))
    assert line.order_by == may(13)
    (order,) = of_kind(tasks_of(season, [dose(season, may(20))]), "order")
    assert (order.day, order.label) == (may(13), "fly")


def test_an_order_that_is_late_is_a_task_of_today() -> None:
    season = Season(farm(), may(18))
    (order,) = of_kind(tasks_of(season, [dose(season, may(20))]), "order")
    assert order.day == may(18)


@pytest.mark.parametrize(
    ("row", "counts"),
    [
        (stock(500, expires=may(20)), True),
        (stock(500, expires=may(19)), False),
        (stock(500, opened=date(2026, 5, 20)), True),
        (stock(500, opened=date(2026, 5, 19)), False),
        (stock(500, label="other"), False),
    ],
)
def test_stock_counts_in_date_and_not_open_too_long(row: StockRow, counts: bool) -> None:
    season = Season(farm(stock=(row,), labels={"fly": label(opened_days=365)}), BEFORE)
    (line,) = shopping_of(season, Doses([dose(season, may(20))]))
    assert (int(line.in_stock_ml), bool(line.packs)) == ((500, False) if counts else (0, True))


def test_what_goes_out_of_date_first_is_used_first() -> None:
    rows = (stock(500), stock(500, expires=may(30)))
    season = Season(farm(stock=rows), BEFORE)
    (line,) = shopping_of(season, Doses([dose(season, may(20)), dose(season, may(70))]))
    assert line.packs == ()


def test_money_is_rounded_once_half_up() -> None:
    packs = (Pack(ml=Decimal(100), price=Decimal("1.001")),)
    season = Season(farm(labels={"fly": label(packs=packs)}), BEFORE)
    (line,) = shopping_of(season, Doses([dose(season, may(20))]))
    assert line.money_minor == round(Fraction("1.001") * 5 * 100 + Fraction(1, 10**9))


def test_recorded_doses_ask_for_nothing() -> None:
    season = Season(farm(record=(flock.row(may(20)),)), may(25))
    assert shopping_of(season, season.record) == ()
