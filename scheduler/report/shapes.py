"""The shapes of the season's picture. x and width in percent of the season, y and height in pixels, downwards.

Percents let the picture fill any page while its words keep their size; offsets (`dx`) are pixels.
"""

from typing import Literal

from msgspec import Struct

Tone = Literal[
    "covered", "fading", "exposed", "away",
    "protects", "fades", "withdrawal", "closed", "event",
]  # fmt: skip
Glyph = Literal["dose", "repeat", "sale", "event", "clear", "gather-in", "free-gather"]
Badge = Literal["", "done", "missed"]
LineKind = Literal["month", "week", "axis", "base", "act"]
TextKind = Literal["month", "target", "mark", "today", "state", "exposed"]
Anchor = Literal["start", "end"]


class Box(Struct, frozen=True):
    """A bar over days; `tone` says what it means."""

    tone: Tone
    x: float
    y: int
    width: float
    height: int


class Line(Struct, frozen=True):
    """A straight line between two points."""

    kind: LineKind
    x1: float
    y1: int
    x2: float
    y2: int


class Mark(Struct, frozen=True):
    """A sign at a day. `letter` names the label of a dose; `own_gather`: the mob is brought in for this alone."""

    glyph: Glyph
    x: float
    y: int
    letter: str = ""
    badge: Badge = ""
    own_gather: bool = False


class Words(Struct, frozen=True):
    """Text whose foot stands at y, from x + dx pixels on (start) or up to there (end)."""

    kind: TextKind
    x: float
    y: int
    text: str
    dx: int = 0
    anchor: Anchor = "start"


class Sign(Struct, frozen=True, kw_only=True):
    """A mark or a bar, or both, with its words. On a narrow page all of it stands `drop` pixels further down."""

    words: Words
    mark: Mark | None
    bar: Box | None
    drop: int


class Silhouette(Struct, frozen=True):
    """The risk's height over the season: steps of (days from the season's start, pixels), each up to the next step."""

    steps: tuple[tuple[int, int], ...]
    days: int
    height: int


class Risk(Struct, frozen=True):
    """A silhouette (by its place in the drawing's list) whose foot stands at y + height."""

    silhouette: int
    y: int
    height: int


class BandShapes(Struct, frozen=True, kw_only=True):
    """The band of one target, y from its own top: its name, its risk, bars and lines, and its states in words."""

    name: Words
    risk: Risk
    boxes: tuple[Box, ...]
    lines: tuple[Line, ...]
    signs: tuple[Sign, ...]


class PlacedBand(Struct, frozen=True):
    """A band (by its place in the drawing's list) whose top stands at y; on a narrow page `drop` pixels lower."""

    band: int
    y: int
    drop: int


class Strip(Struct, frozen=True, kw_only=True):
    """Rows of signs under the months: when a mob is brought in. On a narrow page it is `narrow_height` pixels high."""

    height: int
    narrow_height: int
    signs: tuple[Sign, ...]


class Lane(Struct, frozen=True, kw_only=True):
    """The season of one cohort: the bands of its targets, and signs under them.

    On a narrow page it is `narrow_height` pixels high. `quiet` are targets without a day at risk or a dose, which have
    no band.
    """

    cohort: str
    height: int
    narrow_height: int
    bands: tuple[PlacedBand, ...]
    signs: tuple[Sign, ...]
    quiet: tuple[str, ...] = ()


class MobLanes(Struct, frozen=True, kw_only=True):
    """The lanes of one mob under its strip of gathers. `groups`: names, in the order of the lanes."""

    mob: str
    groups: tuple[str, ...]
    strip: Strip
    lanes: tuple[Lane, ...]


class Axis(Struct, frozen=True, kw_only=True):
    """What all lanes share at their top: months, weeks and closed days. `grid`: where months begin, in percent."""

    height: int
    grid: tuple[float, ...]
    boxes: tuple[Box, ...]
    lines: tuple[Line, ...]
    words: tuple[Words, ...]


class Drawing(Struct, frozen=True, kw_only=True):
    """The season's picture. letters: label ids with the letter that stands for them on doses.

    `today` in percent, None outside the season. Equal bands and silhouettes are kept once.
    """

    axis: Axis
    mobs: tuple[MobLanes, ...]
    today: float | None
    bands: tuple[BandShapes, ...]
    silhouettes: tuple[Silhouette, ...]
    letters: tuple[tuple[str, str], ...]

    @property
    def lanes(self) -> tuple[Lane, ...]:
        """All lanes, mob by mob."""
        return tuple(lane for mob in self.mobs for lane in mob.lanes)
