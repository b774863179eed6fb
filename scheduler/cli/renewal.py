"""The plan of a farm, made again whenever its folder or the day changes, and its calendar as it is served."""

from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.cli.alone import alone
from scheduler.cli.calendars import stale_files
from scheduler.cli.clock import now
from scheduler.cli.disk import read_bytes, read_folder, write_whole
from scheduler.cli.planning import Wanted, WantedCalendars, files_of, planned
from scheduler.cli.shared import read_all
from scheduler.cli.terminal import complain, say

if TYPE_CHECKING:
    from scheduler.outputs import Notice
    from scheduler.serve import Feed
    from scheduler.words import Fault

WHOLE = WantedCalendars()
MENDED = "Once it is mended, this event goes. Until then this is the last good calendar."


class Renewal:
    """Looks at a farm folder, plans anew into the plan's folder as `season plan` does, and holds the feed.

    name: a word of this feed alone, for the uids of its notices. parts: kinds of task that are served, where not all,
    and whether last safe days stand in calendar.ics.
    The feed is a whole value, put in the place of the one before: whoever reads it meanwhile has one or the other.
    """

    def __init__(
        self,
        farm: Path,
        folder: Path,
        day: Callable[[], date],
        seconds: float,
        name: str,
        parts: WantedCalendars = WHOLE,
    ) -> None:
        self._farm, self._folder, self._day, self._seconds, self._name = farm, folder, day, seconds, name
        self._only, self._last_safe_days = parts.only, parts.last_safe_days
        self._seen: object = None
        self._done: object = None
        self._served: object = None
        self._calendar: bytes | None = None
        self._notice: Notice | None = None
        self._feed: Feed | None = None

    def current(self) -> "Feed":
        """The feed as it is now."""
        assert self._feed is not None, "it has begun"
        return self._feed

    def begin(self) -> bool:
        """The calendar of before, else a first planning; whether there is one to serve."""
        self._take()
        if self._feed is None:
            self.look()
        return self._feed is not None

    def look(self) -> None:
        """Plans if anything in the folder, or the day, is other than at the last planning; then takes the calendar.

        After a change the folder has to be found alike twice: a keeper may be writing several files.
        """
        day, texts = self._day(), read_folder(self._farm)
        state = (day, texts)
        if state != self._done and (self._done is None or state == self._seen):
            self._renew(texts, day)
            self._done = state
        self._seen = state
        self._take()

    def _take(self) -> None:
        """Serves calendar.ics as it stands, whoever wrote it; one that cannot be read leaves the last good one."""
        from scheduler.outputs import feed_ics
        from scheduler.serve import feed_of

        self._calendar = calendar_in(self._folder) or self._calendar
        if self._calendar is not None and self._served != (self._calendar, self._notice):
            self._served = (self._calendar, self._notice)
            self._feed = feed_of(feed_ics(self._calendar, self._notice, self._only), now())

    def _renew(self, texts: "Mapping[str, bytes | Fault]", day: date) -> None:
        from scheduler.plan import PlanRefused, changes
        from scheduler.words import Faults

        with alone(self._folder):
            found = read_all(texts, self._folder, day)
            if isinstance(found, Faults):
                for fault in found.items:
                    complain(str(fault))
                self._trouble(f"The farm folder has {_faults(len(found.items))}. `season check` names each.", day)
                return
            try:
                report, _ = planned(*found, Wanted(day, False, False, None, self._seconds, False), lambda: False)
            except PlanRefused as refused:
                if self._feed is None:
                    raise
                complain(f"The plan was refused by its judge, which is a mistake of this program: {refused}")
                self._trouble("This program made a mistake in the new plan, and did not take it.", day)
                return
            parts = WantedCalendars(last_safe_days=self._last_safe_days)
            files = files_of(report, None, changes(found[1], report.plan.tasks, day), parts)
            stale = stale_files(self._folder, files)
            refused_by_disk = write_whole(self._folder, {**files, **dict.fromkeys(stale)})
        if refused_by_disk is not None:
            complain(refused_by_disk)
            self._trouble("The new plan could not be written to the disk.", day)
            return
        self._notice = None
        gone = f" Removed, as they would keep old days: {', '.join(stale)}." if stale else ""
        say(f"Planned for {day.isoformat()}: {len(report.plan.tasks)} tasks. The calendar is renewed.{gone}")

    def _trouble(self, why: str, day: date) -> None:
        from scheduler.outputs import Notice

        complain("The last good calendar is served, and says that it was not renewed.")
        self._notice = Notice(self._name, day, now(), f"{why} {MENDED}")


def calendar_in(folder: Path) -> bytes | None:
    """The bytes of a plan's calendar; None where there is none, or none that is whole."""
    from scheduler.outputs import is_calendar

    found = read_bytes(folder / "calendar.ics")
    return found if isinstance(found, bytes) and is_calendar(found) else None


def _faults(count: int) -> str:
    return "a fault" if count == 1 else f"{count} faults"
