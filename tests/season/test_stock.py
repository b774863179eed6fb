"""What stands in the cupboard against the doses to come, worked by hand: 50 ewes at 10 ml are 500 ml. Days of May."""

from datetime import date
from decimal import Decimal

import pytest

from scheduler.farm import StockRow
from scheduler.labels import Band
from scheduler.season import Doses, Season, Supply, keeps_until, open_day_before, supplies
from scheduler.words import Where
from tests.plan.flock import closed, dose, label, may, prevent, settings
from tests.season.hill import season


def row(ml: int, expires: date | None = None, opened: date | None = None, name: str = "fly") -> StockRow:
    """A row of stock.csv."""
    return StockRow(label=name, ml=Decimal(ml), expires=expires, opened=opened, where=Where("stock.csv", 2))


def supply(of: Season, *days: int) -> Supply:
    """The supply of the one label, with doses to all ewes on these days."""
    (only,) = supplies(of, Doses(dose(of, may(day)) for day in days))
    return only


def short(of: Season, *days: int) -> list[tuple[date, int]]:
    """Day and ml of what is short."""
    return [(day, int(ml)) for day, ml in supply(of, *days).short]


@pytest.mark.parametrize(
    ("stock", "lacking"),
    [
        ((), [(may(5), 500), (may(20), 500)]),
        ((row(1000),), []),
        ((row(999),), [(may(20), 1)]),
        ((row(500),), [(may(20), 500)]),
        ((row(300), row(400)), [(may(20), 300)]),
        ((row(1000, name="other"),), [(may(5), 500), (may(20), 500)]),
    ],
)
def test_what_is_there_goes_to_the_first_doses(stock: tuple[StockRow, ...], lacking: list[tuple[date, int]]) -> None:
    assert short(season(stock=stock), 5, 20) == lacking


@pytest.mark.parametrize(
    ("expires", "lacking"), [(may(4), [(may(5), 100)]), (may(5), []), (may(19), []), (may(20), [])]
)
def test_a_bottle_counts_to_its_last_day_and_the_sooner_out_of_date_is_used_first(
    expires: date, lacking: list[tuple[date, int]]
) -> None:
    """400 ml keep for good, 500 to the day stated; the 5th takes those first and leaves 400 for no second dose."""
    of = season(stock=(row(400), row(500, expires)))
    assert short(of, 5) == lacking


def test_what_the_first_dose_leaves_in_a_bottle_out_of_date_later_is_lost() -> None:
    assert short(season(stock=(row(600, may(10)), row(450))), 5, 20) == [(may(20), 50)]


def test_only_rows_that_keep_to_some_dose_count() -> None:
    keeps, spoils = row(600, may(20)), row(600, may(4))
    assert supply(season(stock=(keeps, spoils)), 5, 20).rows == (keeps,)


@pytest.mark.parametrize(
    ("expires", "opened", "opened_days", "until"),
    [
        (may(30), None, 28, may(30)),
        (may(30), may(1), 28, may(29)),
        (may(30), may(3), 28, may(30)),
        (None, may(1), 28, may(29)),
        (None, may(1), None, date.max),
        (None, None, 28, date.max),
    ],
)
def test_a_bottle_keeps_to_the_sooner_of_its_date_and_its_days_once_opened(
    expires: date | None, opened: date | None, opened_days: int | None, until: date
) -> None:
    assert keeps_until(label(opened_days=opened_days), row(100, expires, opened)) == until


def test_the_last_day_to_order_is_open() -> None:
    """Five days before the 20th is the 15th; that and the day before are closed."""
    of = season(stock=(row(500),), settings=settings(closed=closed(may(14), may(15))))
    assert supply(of, 5, 20).order_by == may(13)
    assert [open_day_before(of, may(day)) for day in (13, 14, 15, 16)] == [may(13), may(13), may(13), may(16)]


def test_where_stock_reaches_nothing_is_to_be_ordered() -> None:
    assert supply(season(stock=(row(500),)), 5).order_by is None


def test_a_dose_whose_ml_a_vet_must_say_needs_nothing_that_is_known() -> None:
    heavy = prevent(bands=(Band(above_kg=Decimal(80), ml=Decimal(5)),))
    of = season(labels={"fly": label(uses=(heavy,))})
    assert (supply(of, 5).needs, short(of, 5)) == (((may(5), Decimal(0)),), [])


def test_doses_given_already_need_nothing_more() -> None:
    of = season()
    assert supplies(of, Doses([dose(of, may(5), origin="record"), dose(of, may(5), origin="missed")])) == ()


def test_supplies_stand_in_the_order_of_their_labels() -> None:
    two = {name: label(id=name, uses=(prevent(),)) for name in ("fly", "a")}
    of = season(labels=two)
    doses = Doses([dose(of, may(5)), dose(of, may(9), label=two["a"])])
    assert [one.label.id for one in supplies(of, doses)] == ["a", "fly"]
