"""Signs in rows: each in the first row where its words run into nothing, on a wide page and on a narrow one."""

from collections.abc import Sequence

from msgspec import Struct

from scheduler.report.packing import NARROWEST_PX, WIDE_PX, beside, rows_of
from scheduler.report.shapes import Badge, Box, Glyph, Mark, Sign, TextKind, Tone, Words

ROW_PX = 20
GLYPH_PX = 10
BAR_PX: dict[Tone, int] = {"withdrawal": 8, "event": 3}


class Wanted(Struct, frozen=True, kw_only=True):
    """A sign still without a place: over `first` to `last` percent, with its words; its mark at `first` unless said."""

    first: float
    last: float
    text: str
    kind: TextKind = "mark"
    glyph: Glyph | None = None
    at_last: bool = False
    letter: str = ""
    badge: Badge = ""
    own_gather: bool = False
    bar: Tone | None = None

    @property
    def beside_px(self) -> int:
        """Pixels that the sign itself takes on each side of its place."""
        return 0 if self.kind in ("state", "exposed") else GLYPH_PX


class Rows(Struct, frozen=True):
    """Placed signs, and the height of their rows on a wide and on a narrow page."""

    signs: tuple[Sign, ...]
    height: int
    narrow_height: int


def placed(wanted: Sequence[Wanted], y: int, narrow_y: int, row_px: int = ROW_PX) -> Rows:
    """The signs in rows from y downwards (narrow_y on a narrow page); words to the right, else left, else upon them."""
    ordered = sorted(wanted, key=lambda sign: sign.first)
    rooms = [beside(sign.first, sign.last, sign.beside_px, sign.text) for sign in ordered]
    wide = rows_of((item for item, _ in rooms), WIDE_PX)
    narrow = rows_of((item for item, _ in rooms), NARROWEST_PX)
    signs = []
    for sign, (_, side), row, narrow_row in zip(ordered, rooms, wide, narrow, strict=True):
        top, gap = y + row_px * row, sign.beside_px
        foot = top + (13 if gap else row_px - 3)
        x, dx = (sign.last, gap) if side == "right" else (sign.first if side == "left" else sign.last, -gap)
        signs.append(
            Sign(
                words=Words(sign.kind, x, foot, sign.text, dx, "start" if side == "right" else "end"),
                mark=_mark(sign, top),
                bar=_bar(sign, top),
                drop=narrow_y + row_px * narrow_row - top,
            )
        )
    return Rows(tuple(signs), row_px * _count(wide), row_px * _count(narrow))


def _count(rows: Sequence[int]) -> int:
    return max(rows, default=-1) + 1


def _mark(sign: Wanted, top: int) -> Mark | None:
    if sign.glyph is None:
        return None
    x = sign.last if sign.at_last else sign.first
    return Mark(sign.glyph, x, top + 9, sign.letter, sign.badge, sign.own_gather)


def _bar(sign: Wanted, top: int) -> Box | None:
    if sign.bar is None or sign.last <= sign.first:
        return None
    height = BAR_PX[sign.bar]
    return Box(sign.bar, sign.first, top + 9 - height // 2, round(sign.last - sign.first, 2), height)
