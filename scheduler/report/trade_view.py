"""The frontier as outputs show it."""

from msgspec import Struct


class TradeRow(Struct, frozen=True):
    """One plan of the frontier. saved: minor units less than the row above; opened: days newly open beside it.

    here: whether the page shows this plan.
    """

    exposed_sheep_days: int
    money_minor: int
    handlings: int
    gathers: int
    saved_minor: int | None
    opened: str
    here: bool


class Dot(Struct, frozen=True):
    """A plan in the picture, in pixels; `here` as in its row."""

    x: int
    y: int
    here: bool


class Trade(Struct, frozen=True):
    """Rows, least exposed first; what is known of other pairs; dots and the steps between them as SVG path data.

    most_exposed, most_money: the ends of the axes.
    """

    rows: tuple[TradeRow, ...]
    words: str
    dots: tuple[Dot, ...]
    steps: str
    most_exposed: int
    most_money: int
