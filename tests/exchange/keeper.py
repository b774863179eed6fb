"""A keeper at the command line: a small farm planned, pushed and pulled."""

import json
import os
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
from click.testing import Result

from tests.cli.folder import season, write
from tests.exchange.calendars import Phone

TODAY = "2027-05-01"
SALE = {"sales.csv": "sale,group,head,date,purpose\nMart,Ewes,100,2027-07-31,slaughter\n"}


@dataclass
class Keeper:
    """A farm folder, the address that it is pushed to, and the user there."""

    farm: Path
    address: str
    user: str
    today: str = TODAY

    def plan(self, changes: Mapping[str, str] | None = None) -> None:
        """Changes files of the farm and plans it."""
        for name, text in (changes or {}).items():
            (self.farm / name).write_text(text, encoding="utf-8")
        done = season("plan", self.farm, "--today", self.today)
        assert done.exit_code in (0, 1), done.stderr

    def push(self, *words: str, to: str | None = None) -> Result:
        """What season push did."""
        return season("push", self.farm, "--to", to or self.address, "--user", self.user, "--today", self.today, *words)

    def pushed(self, *words: str, to: str | None = None) -> dict[str, Any]:
        """The JSON of a push that went well."""
        done = self.push("--json", *words, to=to)
        assert done.exit_code == 0, done.stderr
        return read_json("push", done.stdout)

    def pull(self, *words: str, source: str | Path | None = None) -> Result:
        """What season pull did."""
        return season(
            "pull", self.farm, "--from", source or self.address, "--user", self.user, "--today", self.today, *words
        )

    def tasks(self) -> list[dict[str, Any]]:
        """The tasks of the plan."""
        found: list[dict[str, Any]] = json.loads((self.farm / "plan" / "plan.json").read_bytes())["tasks"]
        return found

    def task(self, kind: str = "dose", status: str = "planned") -> dict[str, Any]:
        """The first task of a kind."""
        return next(task for task in self.tasks() if (task["kind"], task["status"]) == (kind, status))

    @property
    def calendar(self) -> str:
        """The address of the calendar that push makes."""
        return f"{self.address}season-test-farm-invented/"

    @property
    def phone(self) -> Phone:
        """Another client of that calendar."""
        return Phone(self.calendar, self.user)

    def process(self, *words: str) -> "subprocess.Popen[str]":
        """season push as a process of its own."""
        command = [sys.executable, "-m", "scheduler", "push", str(self.farm), "--to", self.address, "--user", self.user,
                   "--today", self.today, *words]  # fmt: skip
        return subprocess.Popen(
            command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=dict(os.environ)
        )


def read_json(command: str, text: str) -> dict[str, Any]:
    """The JSON that a command printed, which keeps to its schema."""
    found: dict[str, Any] = json.loads(text)
    jsonschema.validate(found, json.loads(season("schema", command).stdout))
    return found


def keeper(folder: Path, address: str, user: str, changes: Mapping[str, str] | None = None) -> Keeper:
    """A keeper whose farm is planned and not pushed yet."""
    found = Keeper(write(folder / "farm", changes), address, user)
    found.plan()
    return found


def day_of(task: Mapping[str, Any]) -> date:
    """The day of a task."""
    return date.fromisoformat(task["date"])


def table(found: Keeper, name: str) -> str:
    """A table of the farm; empty where there is none."""
    path = found.farm / name
    return path.read_text(encoding="utf-8") if path.exists() else ""
