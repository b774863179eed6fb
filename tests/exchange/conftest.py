"""One Radicale for all tests of this folder, with a user of its own for each test; nobody waits between tries."""

import time
from collections.abc import Iterator

import pytest

from tests.exchange.servers import PASSWORD, USERS, Proxy, free_port, proxied, radicale


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """The port of a Radicale."""
    port = free_port()
    with radicale(tmp_path_factory.mktemp("radicale"), port):
        yield port


_free = iter(USERS)


@pytest.fixture
def user() -> str:
    """A user that no other test has."""
    return next(_free)


@pytest.fixture
def home(server: int, user: str) -> str:
    """The user's home of calendars, which is empty."""
    return f"http://127.0.0.1:{server}/{user}/"


@pytest.fixture
def proxy(server: int) -> Iterator[tuple[Proxy, int]]:
    """A proxy before the Radicale, and its port."""
    with proxied(server) as found:
        yield found


@pytest.fixture(autouse=True)
def waits(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """The password is in the environment; how long would have been waited between tries."""
    waited: list[float] = []
    monkeypatch.setattr(time, "sleep", waited.append)
    monkeypatch.setenv("SEASON_PASSWORD", PASSWORD)
    return waited
