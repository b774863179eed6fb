"""Ctrl-C while planning writes the best plan so far."""

import json
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from benchmarks.farms import random_farm
from scheduler.cli.stopping import stopping


def test_pressed_once_it_says_so_and_pressed_twice_it_ends(capsys: pytest.CaptureFixture[str]) -> None:
    with stopping() as pressed:
        assert not pressed()
        signal.raise_signal(signal.SIGINT)
        assert pressed()
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)
    assert "the best plan so far will be written" in capsys.readouterr().err


def test_afterwards_ctrl_c_is_what_it_was() -> None:
    before = signal.getsignal(signal.SIGINT)
    with stopping():
        pass
    assert signal.getsignal(signal.SIGINT) is before


@pytest.mark.skipif(sys.platform == "win32", reason="no such signal there")
def test_a_plan_stopped_by_hand_is_written_whole(tmp_path: Path) -> None:
    for name, content in random_farm(3, 10, mobs=1, dealt=True).items():
        path = tmp_path / "farm" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    command = [sys.executable, "-m", "scheduler", "plan", str(tmp_path / "farm"), "--today", "2027-02-20",
               "--seconds", "600"]  # fmt: skip
    planning = subprocess.Popen(command, stderr=subprocess.PIPE, stdout=subprocess.DEVNULL, text=True)
    assert planning.stderr is not None
    for line in planning.stderr:
        if line.startswith("planning,"):
            time.sleep(0.2)
            planning.send_signal(signal.SIGINT)
            break
    said = planning.stderr.read()
    assert planning.wait() in {0, 1}
    assert "stopping: the best plan so far" in said
    plan = json.loads((tmp_path / "farm" / "plan" / "plan.json").read_text(encoding="utf-8"))
    assert plan["tasks"]
