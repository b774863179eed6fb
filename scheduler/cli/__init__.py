"""The command `season`: the only part that reads files, the clock and the terminal."""

from scheduler.cli.main import main

__all__ = ["main"]
