"""Cover: the days on which a dose is relied on, and those on which the label may still give something."""

from datetime import date

from msgspec import Struct

from scheduler.farm import Caution
from scheduler.labels import Use
from scheduler.words import Span, plus


class Cover(Struct, frozen=True):
    """Days relied on, the days after them that only fade (both may be empty), and the event that cut them short."""

    cover: Span
    fading: Span
    cut_by: date | None


def planning_days(use: Use, caution: Caution) -> int:
    """Days of protection that the farm plans on: the least, the rounded-down mean, or the most of the label."""
    least, most = use.protects_days
    return {"high": least, "middle": (least + most) // 2, "low": most}[caution]


def cover_of(use: Use, day: date, caution: Caution, events: list[date]) -> Cover:
    """Cover of a dose on `day`; `events` are the dates of the events that can end it."""
    cut = min((event for event in events if event > day), default=None)
    relied = plus(day, planning_days(use, caution) - 1)
    gives = plus(day, use.protects_days[1] - 1)
    end = date.max if cut is None else plus(cut, -1)
    cover = Span(plus(day, use.works_after_days), min(relied, end))
    fading = Span(max(plus(relied, 1), plus(day, use.works_after_days)), min(gives, end))
    return Cover(cover, fading, cut if cut is not None and cut <= gives else None)
