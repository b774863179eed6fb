"""Runs of days, both ends included."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from msgspec import Struct


class Span(Struct, frozen=True, order=True):
    """The days from `first` to `last`, both included."""

    first: date
    last: date

    def __contains__(self, day: date) -> bool:
        return self.first <= day <= self.last

    def __len__(self) -> int:
        return max(0, (self.last - self.first).days + 1)

    def days(self) -> Iterator[date]:
        """Each day in order; none where `last` is before `first`."""
        return days_of(self.first, self.last)


def days_of(first: date, last: date) -> Iterator[date]:
    """Each day from `first` to `last`, both included."""
    return (date.fromordinal(n) for n in range(first.toordinal(), last.toordinal() + 1))


def plus(day: date, days: int) -> date:
    """The day so many days later, held within the years 1 to 9999."""
    return date.fromordinal(min(max(1, day.toordinal() + days), date.max.toordinal()))


def spans_of(days: Iterable[date]) -> tuple[Span, ...]:
    """The maximal spans of a set of days, in order."""
    spans: list[Span] = []
    for day in sorted(set(days)):
        if spans and spans[-1].last + timedelta(days=1) == day:
            spans[-1] = Span(spans[-1].first, day)
        else:
            spans.append(Span(day, day))
    return tuple(spans)
