"""Ctrl-C while planning: the best plan so far is written; pressed again, the program ends at once."""

import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

from scheduler.cli.terminal import complain


@contextmanager
def stopping() -> Iterator[Callable[[], bool]]:
    """Says, while it is open, whether Ctrl-C was pressed."""
    pressed = False

    def press(number: int, frame: FrameType | None) -> None:
        nonlocal pressed
        if pressed:
            raise KeyboardInterrupt
        pressed = True
        complain("stopping: the best plan so far will be written; Ctrl-C again ends at once and writes nothing")

    before = signal.signal(signal.SIGINT, press)
    try:
        yield lambda: pressed
    finally:
        signal.signal(signal.SIGINT, before)
