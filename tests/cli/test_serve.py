"""season serve as a process: its address, who reaches it, how it ends, and what it refuses."""

import http.client
import json
import re
import signal
import socket
import stat
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from scheduler.cli.feed_address import FILE
from tests.cli.folder import FILES, TODAY, inside, season, write

SERVE = (sys.executable, "-m", "scheduler", "serve")


class Served:
    """A running season serve, and what it said before it could be asked."""

    def __init__(self, running: "subprocess.Popen[str]") -> None:
        self.running = running
        self.said = ""
        assert running.stdout is not None
        for line in running.stdout:
            self.said += line
            if "Ctrl-C ends" in self.said.replace("\n ", ""):
                break
        self.addresses = re.findall(r"http://\S+", self.said)

    def get(self, address: str) -> tuple[int, bytes]:
        """Status and body of one request."""
        at = urlsplit(address)
        connection = http.client.HTTPConnection(at.hostname or "", at.port, timeout=30)
        connection.request("GET", at.path)
        answer = connection.getresponse()
        return answer.status, answer.read()


@contextmanager
def serving(farm: Path, *words: str) -> Iterator[Served]:
    options = ["--feed", "--today", TODAY, "--port", "0", *words]
    running = subprocess.Popen(
        [*SERVE, str(farm), *options], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, bufsize=1
    )
    try:
        yield Served(running)
    finally:
        running.kill()
        running.communicate()


def test_it_says_where_to_subscribe_and_who_can_read(tmp_path: Path) -> None:
    with serving(write(tmp_path)) as served:
        (address,) = served.addresses
        assert re.fullmatch(r"http://127\.0\.0\.1:\d+/[A-Za-z0-9_-]{32}/calendar\.ics", address)
        assert "Whoever has the address can read the whole calendar" in " ".join(served.said.split())
        status, body = served.get(address)
        assert (status, body.count(b"BEGIN:VEVENT")) == (200, len(tasks(tmp_path)))


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_it_ends_cleanly(tmp_path: Path, number: signal.Signals) -> None:
    with serving(write(tmp_path)) as served:
        served.running.send_signal(number)
        out, err = served.running.communicate(timeout=30)
        assert (served.running.returncode, err) == (0, "")
        assert "Ended." in out
    assert not [name for name in inside(tmp_path) if name.endswith((".new", ".old"))]


def test_the_address_stays_until_another_is_wanted(tmp_path: Path) -> None:
    secrets = []
    for words in ((), (), ("--new-address",), ()):
        with serving(write(tmp_path), *words) as served:
            secrets.append(urlsplit(served.addresses[0]).path)
    assert secrets[0] == secrets[1] != secrets[2] == secrets[3]


def test_the_address_is_kept_for_its_owner_alone(tmp_path: Path) -> None:
    with serving(write(tmp_path)) as served:
        kept = tmp_path / "plan" / FILE
        assert kept.read_text().strip() in served.addresses[0]
        assert stat.S_IMODE(kept.stat().st_mode) == 0o600


def test_only_with_lan_others_reach_it(tmp_path: Path) -> None:
    for words, host in (((), "127.0.0.1"), (("--lan",), "0.0.0.0")):
        with serving(write(tmp_path), *words) as served:
            assert listens_on(urlsplit(served.addresses[0]).port or 0) == host
            assert ("network that you trust" in served.said) is bool(words)


def listens_on(port: int) -> str:
    """The address that a port of this machine listens on, as the kernel shows it."""
    for row in Path("/proc/net/tcp").read_text().splitlines()[1:]:
        address, _, number = row.split()[1].partition(":")
        if int(number, 16) == port and row.split()[3] == "0A":
            return socket.inet_ntoa(bytes.fromhex(address)[::-1])
    return ""


def test_a_port_that_is_taken_is_told_and_nothing_written(tmp_path: Path) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        done = season("serve", write(tmp_path), "--feed", "--port", port, "--today", TODAY)
    assert done.exit_code == 3
    assert done.stderr == (
        f"Port {port} is taken, perhaps by another season serve; end that, or choose another with --port.\n"
    )
    assert not (tmp_path / "plan").exists()


def test_a_faulty_folder_without_a_calendar_is_refused_and_nothing_written(tmp_path: Path) -> None:
    farm = write(tmp_path, {"groups.csv": "group,kind,head\nEwes,ewe,none\n"})
    done = season("serve", farm, "--feed", "--port", "0", "--today", TODAY)
    assert done.exit_code == 2
    assert done.stderr.startswith("groups.csv, row 2, head: ")
    assert not (tmp_path / "plan").exists()
    assert season("serve", tmp_path / "none", "--feed", "--port", "0").exit_code == 2
    assert not (tmp_path / "none").exists()


def test_a_faulty_folder_with_a_calendar_is_served_with_the_notice(tmp_path: Path) -> None:
    season("plan", write(tmp_path), "--today", TODAY)
    write(tmp_path, {"groups.csv": "group,kind,head\nEwes,ewe,none\n"})
    with serving(tmp_path) as served:
        assert served.running.stderr is not None
        assert served.running.stderr.readline().startswith("groups.csv, row 2, head: ")
        assert served.running.stderr.readline().startswith("The last good calendar is served")
        assert wait_for(served, b"not renewed")


def wait_for(served: Served, words: bytes) -> bool:
    """Whether the calendar comes to hold the words."""
    for _ in range(200):
        if words in served.get(served.addresses[0])[1]:
            return True
        time.sleep(0.1)
    return False


def test_a_change_in_the_folder_reaches_the_feed(tmp_path: Path) -> None:
    with serving(write(tmp_path)) as served:
        assert b"Rams" not in served.get(served.addresses[0])[1]
        write(tmp_path, {"groups.csv": FILES["groups.csv"] + "Rams,ram,4,95,85,2027-04-20\n"})
        assert wait_for(served, b"Rams")


def test_only_some_kinds_are_served_and_calendar_ics_stays_whole(tmp_path: Path) -> None:
    with serving(write(tmp_path), "--only", "dose,sale", "--calendar-also", "last-safe-days") as served:
        kinds = set(re.findall(rb"CATEGORIES:(.*)\r\n", served.get(served.addresses[0])[1]))
    assert kinds == {b"dose"}
    assert (tmp_path / "plan" / "calendar.ics").read_bytes().count(b"BEGIN:VEVENT") == len(tasks(tmp_path)) > 1


@pytest.mark.parametrize("plan", ["other", "broken"])
def test_another_farm_s_plan_or_a_broken_one_is_not_served(tmp_path: Path, plan: str) -> None:
    season(
        "plan", write(tmp_path / "other", {"farm.toml": FILES["farm.toml"].replace("Test", "Other")}), "--today", TODAY
    )
    folder = tmp_path / "other" / "plan"
    if plan == "broken":
        (folder / "plan.json").write_text("{")
    done = season("serve", write(tmp_path / "farm"), "--feed", "--out", folder, "--port", "0", "--today", TODAY)
    assert done.exit_code == 2
    assert done.stderr.startswith("plan.json")


@pytest.mark.parametrize("kept", ["", "short\n", "a" * 31 + "/\n", "é" * 32])
def test_an_address_file_that_holds_something_else_is_refused(tmp_path: Path, kept: str) -> None:
    farm = write(tmp_path)
    (farm / "plan").mkdir()
    (farm / "plan" / FILE).write_text(kept)
    done = season("serve", farm, "--feed", "--port", "0", "--today", TODAY)
    assert done.exit_code == 2
    assert done.stderr.startswith(f"{FILE}: found no address; ")


def test_what_to_serve_must_be_said(tmp_path: Path) -> None:
    done = season("serve", write(tmp_path))
    assert (done.exit_code, "--feed" in done.stderr) == (2, True)


def tasks(farm: Path) -> list[object]:
    """The tasks of the plan that stands."""
    found = json.loads((farm / "plan" / "plan.json").read_text(encoding="utf-8"))["tasks"]
    assert isinstance(found, list)
    return found
