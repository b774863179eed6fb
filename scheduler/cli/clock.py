"""The only place that reads the clock."""

import time
from collections.abc import Callable
from datetime import date


def today_or(given: date | None) -> date:
    """The day given with --today, else the day of the machine."""
    return date.today() if given is None else given


def timer(seconds: float) -> Callable[[], bool]:
    """Says whether so many seconds have gone by since it was made."""
    end = time.monotonic() + seconds
    return lambda: time.monotonic() >= end


def elapsed() -> Callable[[], float]:
    """Seconds gone by since it was made."""
    start = time.monotonic()
    return lambda: time.monotonic() - start
