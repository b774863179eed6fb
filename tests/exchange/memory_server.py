"""A calendar server in memory, with the conditions that a real one keeps (RFC 4791, 5.3.2 and 5.3.4)."""

from collections.abc import Callable, Iterable, Iterator

from scheduler.exchange import ChangedThere, Connection, Server

ADDRESS = "https://calendar.example/me/farm/"


class MemoryServer(Server):
    """Events by path, each with a number that rises with every change. before_put: what others do meanwhile."""

    def __init__(self) -> None:
        super().__init__(Connection(ADDRESS, None, None, sleep=lambda seconds: None, timeout=1))
        self.events: dict[str, tuple[int, str]] = {}
        self.puts = 0
        self.fetched: list[str] = []
        self.before_put: Callable[[str], None] = lambda path: None
        self._number = 0

    def write(self, path: str, content: str) -> str:
        """Puts an event there without a condition; its tag."""
        self._number += 1
        self.events[path] = (self._number, content)
        return f'"{self._number}"'

    def tags(self, address: str) -> dict[str, str]:
        """The tag of each event."""
        return {path: f'"{number}"' for path, (number, _) in self.events.items()}

    def fetch(self, address: str, paths: Iterable[str]) -> Iterator[tuple[str, str, str]]:
        """Those that are there."""
        paths = list(paths)
        self.fetched += paths
        return ((path, f'"{self.events[path][0]}"', self.events[path][1]) for path in paths if path in self.events)

    def put(self, address: str, path: str, content: str, tag: str | None) -> str | None:
        """Keeps to If-None-Match and If-Match."""
        self.before_put(path)
        if tag != self.tags(address).get(path):
            raise ChangedThere
        self.puts += 1
        return self.write(path, content)
