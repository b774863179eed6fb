"""What is set once for the whole process, before anything is read."""

import gc
import os

NEW_OBJECTS = 100_000
"""Python's own 700 has the collector go over a whole plan again and again, though hardly anything is garbage."""


def set_up() -> None:
    """One thread for numpy's matrices, which are too small here to share out; and a collector that seldom looks."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    gc.set_threshold(NEW_OBJECTS, *gc.get_threshold()[1:])
