"""The terminal: its width, colours only where they belong, plain signs where it has no others, and completion on Tab.

Colours keep to no-color.org; JSON is UTF-8 whatever the terminal (RFC 8259, section 8.1; both from memory).
"""

import fcntl
import json
import os
import pty
import struct
import subprocess
import sys
import termios
from collections.abc import Mapping
from pathlib import Path

import pytest
from click.testing import CliRunner

from scheduler.cli import main
from tests.cli.folder import FORBIDDEN_WISH, TODAY, write

COMMAND = (sys.executable, "-m", "scheduler")
PLAIN = {**{name: value for name, value in os.environ.items() if name not in {"NO_COLOR", "COLUMNS"}}, "TERM": "xterm"}


def on_a_terminal(*words: str, environment: Mapping[str, str], columns: int = 80, stream: str = "stdout") -> str:
    """What the command writes to a terminal of so many columns by that stream."""
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
    out, err = (theirs, subprocess.DEVNULL) if stream == "stdout" else (subprocess.DEVNULL, theirs)
    running = subprocess.Popen([*COMMAND, *words], stdout=out, stderr=err, env={**PLAIN, **environment})
    os.close(theirs)
    written = b""
    while True:
        try:
            part = os.read(ours, 65536)
        except OSError:
            break
        if not part:
            break
        written += part
    os.close(ours)
    running.wait()
    return written.decode().replace("\r\n", "\n")


def test_on_a_terminal_a_stop_stands_in_colour_and_the_word_stays() -> None:
    told = on_a_terminal("rules", environment={})
    assert "\x1b[31m\x1b[1mstop\x1b[0m  use-on-label" in told


@pytest.mark.parametrize("environment", [{"NO_COLOR": "1"}, {"TERM": "dumb"}], ids=str)
def test_no_colour_where_the_keeper_or_the_terminal_wants_none(environment: dict[str, str]) -> None:
    told = on_a_terminal("rules", environment=environment)
    assert "\x1b" not in told
    assert "stop  use-on-label" in told


@pytest.mark.parametrize(("columns", "widest"), [(30, 40), (52, 52), (200, 80)])
def test_lines_keep_to_the_terminal_between_40_and_80_columns(columns: int, widest: int) -> None:
    told = on_a_terminal("rules", "meat-withdrawal", environment={"NO_COLOR": "1"}, columns=columns)
    assert widest - 12 < max(map(len, told.splitlines())) <= widest


def test_faults_are_broken_to_a_terminal_and_one_a_line_elsewhere(tmp_path: Path) -> None:
    farm = str(write(tmp_path, {"groups.csv": "group,kind,head\nEwes,ewe,0\n"}))
    told = on_a_terminal("check", farm, environment={"COLUMNS": "50"}, stream="stderr")
    assert len(told.splitlines()) > 1
    assert max(map(len, told.splitlines())) <= 50
    assert len(run("check", farm, encoding="utf-8").stderr.splitlines()) == 1


def run(*words: str, encoding: str) -> subprocess.CompletedProcess[bytes]:
    """The command with streams of that encoding that are no terminal."""
    return subprocess.run([*COMMAND, *words], capture_output=True, env={**PLAIN, "PYTHONIOENCODING": encoding})


def test_a_terminal_without_the_sign_gets_the_nearest_plain_one(tmp_path: Path) -> None:
    farm = write(tmp_path, {**FORBIDDEN_WISH, "sales.csv": "sale,group\nMart,Bélier – Ø\n"})
    done = run("check", str(farm), "--today", TODAY, encoding="ascii")
    assert (done.returncode, done.stdout) == (2, b"")
    assert b'found "Belier - ?"' in done.stderr


def test_json_stays_utf_8_on_a_plain_terminal(tmp_path: Path) -> None:
    farm = write(tmp_path, {"groups.csv": "group,kind,head\nEwes,bélier,3\n"})
    done = run("check", str(farm), "--today", TODAY, "--json", encoding="ascii")
    assert json.loads(done.stdout.decode("utf-8"))["faults"][0]["found"] == 'found "bélier"'


@pytest.mark.parametrize(
    ("line", "offered"),
    [("season ch", "plain,check"), ("season check my", "dir,my"), ("season rules meat", "plain,meat-withdrawal")],
)
def test_tab_completes_commands_and_names_of_folders(line: str, offered: str) -> None:
    environment = {"_SEASON_COMPLETE": "bash_complete", "COMP_WORDS": line, "COMP_CWORD": str(line.count(" "))}
    assert CliRunner().invoke(main, [], prog_name="season", env=environment).stdout == f"{offered}\n"


def test_tab_completes_the_labels_of_a_farm(tmp_path: Path) -> None:
    farm = write(tmp_path)
    for line in (f"season label {farm} p", f"season dose --farm {farm} p"):
        environment = {"_SEASON_COMPLETE": "bash_complete", "COMP_WORDS": line, "COMP_CWORD": str(line.count(" "))}
        assert CliRunner().invoke(main, [], prog_name="season", env=environment).stdout == "plain,pour\n"


def test_bash_can_read_its_completion() -> None:
    source = CliRunner().invoke(main, [], prog_name="season", env={"_SEASON_COMPLETE": "bash_source"}).stdout
    assert subprocess.run(["bash", "-n"], input=source, text=True, capture_output=True).stderr == ""
