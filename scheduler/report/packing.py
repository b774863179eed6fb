"""Where the words of the picture stand, so that none runs into another on the narrowest page."""

import unicodedata
from collections.abc import Iterable
from typing import Literal

from msgspec import Struct

NARROWEST_PX = 300
WIDE_PX = 640
"""Least widths of the picture on a narrow page and on a wide one; beyond them all gaps only grow."""
TEXT_PX = 12
GAP_PX = 6
Side = Literal["right", "left", "over"]


class Item(Struct, frozen=True):
    """Something from `first` to `last` percent that needs `left` and `right` pixels beside it."""

    first: float
    last: float
    left: float
    right: float


def text_px(text: str) -> float:
    """Pixels that a text of the picture needs at most, by generous widths of its letters."""
    return TEXT_PX * sum(_em(letter) for letter in text)


def _em(letter: str) -> float:
    if unicodedata.east_asian_width(letter) in "WF":
        return 1.1
    if letter in "MWmw@%":
        return 1.0
    if letter in "ijlrtfI.,' ":
        return 0.42
    return 0.75 if letter.isupper() else 0.64


def shortened(text: str, most_px: float) -> str:
    """The text, cut with an ellipsis where it needs more pixels than that."""
    if text_px(text) <= most_px:
        return text
    kept = text
    while kept and text_px(kept + "…") > most_px:
        kept = kept[:-1]
    return kept.rstrip() + "…"


def beside(first: float, last: float, glyph_px: float, text: str) -> tuple[Item, Side]:
    """The room for a sign or bar with its text, and on which side the text stands: right, else left, else over it."""
    needed = glyph_px + text_px(text)
    if last / 100 * NARROWEST_PX + needed <= NARROWEST_PX:
        return Item(first, last, glyph_px, needed), "right"
    if needed <= first / 100 * NARROWEST_PX:
        return Item(first, last, needed, glyph_px), "left"
    return Item(first, last, glyph_px, glyph_px), "over"


def rows_of(items: Iterable[Item], width: int) -> list[int]:
    """A row for each item, from 0: the first in which it touches none on a picture of that width or a wider one.

    Items in order of `first`.
    """
    ends: list[float] = []
    rows: list[int] = []
    for item in items:
        start = item.first / 100 * width - item.left
        row = next((n for n, end in enumerate(ends) if end + GAP_PX <= start), len(ends))
        end = item.last / 100 * width + item.right
        ends[row : row + 1] = [end]
        rows.append(row)
    return rows
