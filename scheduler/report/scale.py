"""From days to places across the picture."""

from datetime import date, timedelta

from msgspec import Struct


class Scale(Struct, frozen=True):
    """The season from `start` to `end`, both included, spread over 0 to 100 percent."""

    start: date
    end: date

    @property
    def days(self) -> int:
        """Days of the season."""
        return (self.end - self.start).days + 1

    def holds(self, day: date) -> bool:
        """Whether the day lies in the season."""
        return self.start <= day <= self.end

    def x(self, day: date) -> float:
        """The beginning of the day, held within the picture."""
        return self._percent(min(max((day - self.start).days, 0), self.days))

    def after(self, day: date) -> float:
        """The end of the day, held within the picture."""
        return self.x(day + timedelta(days=1))

    def middle(self, day: date) -> float:
        """Noon of the day; the picture's edge for days outside the season."""
        if not self.holds(day):
            return self.x(day)
        return self._percent((day - self.start).days + 0.5)

    def _percent(self, days: float) -> float:
        return round(100 * days / self.days, 2)
