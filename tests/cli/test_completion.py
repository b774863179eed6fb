"""Completion on Tab, by the shells themselves: each reads what the README says, and is asked as a keeper would."""

import os
import pty
import re
import select
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.cli.folder import write

ENVIRONMENT = {
    **os.environ,
    "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}",
    "TERM": "dumb",
    "LC_ALL": "C.UTF-8",
}
FIRST = "season ru"
LAST_WAIT_SECONDS = 60


def shell(name: str) -> str:
    """The shell's path; without it the test is skipped, or fails where CI is set."""
    found = shutil.which(name)
    if found is None:
        if os.environ.get("CI"):
            pytest.fail(f"no {name} on this machine: apt-get install {name}")
        pytest.skip(f"no {name} on this machine")
    return found


def in_bash(line: str, folder: Path) -> str:
    """The words that bash offers."""
    script = f"""eval "$(_SEASON_COMPLETE=bash_source season)"
COMP_WORDS=({line}); COMP_CWORD=$(({len(line.split())} - 1)); _season_completion season
printf '%s\\n' "${{COMPREPLY[@]}}" """
    return run([shell("bash"), "--norc", "-c", script], folder)


def in_fish(line: str, folder: Path) -> str:
    """The words that fish offers, each with its explanation."""
    script = f"_SEASON_COMPLETE=fish_source season | source; complete --do-complete '{line}'"
    return run([shell("fish"), "--no-config", "-c", script], folder)


def run(command: list[str], folder: Path) -> str:
    """What the shell writes."""
    done = subprocess.run(
        command, cwd=folder, env=ENVIRONMENT, capture_output=True, text=True, timeout=LAST_WAIT_SECONDS
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def in_zsh(line: str, folder: Path) -> str:
    """What stands on zsh's line once Tab was pressed: it offers nothing outside a terminal."""
    child, terminal = pty.fork()
    if child == 0:
        os.chdir(folder)
        os.execve(shell("zsh"), ["zsh", "-f", "-i"], {**ENVIRONMENT, "PS1": "", "HOME": str(folder)})
    try:
        setup = 'autoload -U compinit; compinit -u -D; eval "$(_SEASON_COMPLETE=zsh_source season)"; print rea""dy\n'
        os.write(terminal, setup.encode())
        until(terminal, "ready")
        os.write(terminal, f"{line}\t".encode())
        os.write(terminal, b"\x01print -r -- '\x05' | tr a-z A-Z\n")  # the line itself, in capitals, as the answer
        return until(terminal, "SEASON.*").lower()
    finally:
        os.close(terminal)
        os.waitpid(child, 0)


def until(terminal: int, pattern: str) -> str:
    """What the terminal shows, up to a line of that pattern; fails where it does not come."""
    shown, end = "", time.monotonic() + LAST_WAIT_SECONDS
    while time.monotonic() < end:
        if select.select([terminal], [], [], 1)[0]:
            shown += os.read(terminal, 65536).decode(errors="replace").replace("\r", "")
        found = re.search(f"^{pattern}$", shown, re.MULTILINE)
        if found:
            return found[0]
    raise AssertionError(shown)


SHELLS = {"bash": in_bash, "fish": in_fish, "zsh": in_zsh}


@pytest.mark.parametrize("name", SHELLS)
def test_commands_are_completed(name: str, tmp_path: Path) -> None:
    assert re.search(r"\brules\b", SHELLS[name](FIRST, tmp_path))


@pytest.mark.parametrize("name", SHELLS)
def test_rules_are_completed(name: str, tmp_path: Path) -> None:
    assert "meat-withdrawal" in SHELLS[name]("season rules meat", tmp_path)


@pytest.mark.parametrize("name", SHELLS)
def test_labels_of_the_farm_are_completed(name: str, tmp_path: Path) -> None:
    write(tmp_path / "farm")
    assert re.search(r"\bpour\b", SHELLS[name]("season label farm po", tmp_path))


@pytest.mark.parametrize("name", ["fish", "zsh"])
def test_folders_are_completed(name: str, tmp_path: Path) -> None:
    """bash adds its own list of folders only where Tab is pressed."""
    write(tmp_path / "hill-farm")
    assert "hill-farm" in SHELLS[name]("season check hi", tmp_path)
