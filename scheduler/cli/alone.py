"""One run at a time plans into a folder, so that each takes up the task numbers of the one before."""

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from scheduler.cli.terminal import complain


@contextmanager
def alone(folder: Path) -> Iterator[None]:
    """While it is open no other run plans into the folder; waits for its turn, and says that it does.

    The folder itself is locked (its parent while it does not exist), so nothing is left behind, whatever happens.
    Where the system has no such lock the run goes on without.
    """
    descriptor = None
    with suppress(ImportError, OSError):
        descriptor = _locked(folder)
    try:
        yield
    finally:
        if descriptor is not None:
            os.close(descriptor)


def _locked(folder: Path) -> int:
    while True:
        here = next(path for path in (folder, *folder.absolute().parents) if path.is_dir())
        descriptor = os.open(here, os.O_RDONLY)
        try:
            _wait(descriptor)
        except BaseException:
            os.close(descriptor)
            raise
        if here == folder or not folder.is_dir():
            return descriptor
        os.close(descriptor)  # the run before made the folder


def _wait(descriptor: int) -> None:
    import fcntl

    try:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        complain("waiting: another run of season is planning into the same folder")
        fcntl.flock(descriptor, fcntl.LOCK_EX)
