"""Where the password comes from: the environment, then the keyring; and it is kept only where that is wanted."""

from collections.abc import Iterator
from pathlib import Path

import keyring
import pytest
from keyring.backend import KeyringBackend

from tests.exchange.keeper import keeper


class Ring(KeyringBackend):
    """A keyring in memory."""

    priority = 1
    kept: dict[tuple[str, str], str]

    def get_password(self, service: str, username: str) -> str | None:
        """What is kept."""
        return self.kept.get((service, username))

    def set_password(self, service: str, username: str, password: str) -> None:
        """Keeps it."""
        self.kept[service, username] = password


@pytest.fixture
def ring() -> Iterator[Ring]:
    """The keyring of this machine, for as long as a test lasts."""
    before, ring = keyring.get_keyring(), Ring()  # type: ignore[no-untyped-call]
    ring.kept = {}
    keyring.set_keyring(ring)
    yield ring
    keyring.set_keyring(before)


def test_a_password_is_remembered_where_that_is_wanted_and_then_found(
    ring: Ring, tmp_path: Path, home: str, user: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    found = keeper(tmp_path, home, user)
    found.pushed()
    assert ring.kept == {}
    found.pushed("--remember")
    assert list(ring.kept.values()) == ["secret"]
    monkeypatch.delenv("SEASON_PASSWORD")
    assert found.push().exit_code == 0


def test_a_wrong_password_is_not_remembered(
    ring: Ring, tmp_path: Path, home: str, user: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SEASON_PASSWORD", "wrong")
    assert keeper(tmp_path, home, user).push("--remember").exit_code == 3
    assert ring.kept == {}


def test_another_port_is_another_account(
    ring: Ring, tmp_path: Path, home: str, user: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    ring.kept["season", f"{user}@127.0.0.1:1"] = "secret"
    monkeypatch.delenv("SEASON_PASSWORD")
    assert keeper(tmp_path, home, user).push().exit_code == 2
