"""The only place that reads the clock."""

import time
from collections.abc import Callable
from datetime import UTC, date, datetime


def today() -> date:
    """The day of the machine."""
    return date.today()


def elapsed() -> Callable[[], float]:
    """Says how many seconds have gone by since it was made."""
    start = time.monotonic()
    return lambda: time.monotonic() - start


def now() -> datetime:
    """This moment, in UTC."""
    return datetime.now(UTC)
