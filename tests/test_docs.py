"""The README's commands run as they are written, and every command explains itself with an example."""

import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import click
import pytest

from scheduler.cli import main

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```sh\n(.*?)^```$", README, flags=re.MULTILINE | re.DOTALL)
NOT_COPIED = (".*", "__pycache__", "tests", "benchmarks", "dist", "build", "*-plan")
WRITTEN = ("calendar.ics", "changes.json", "plan.json", "summary.html", "tasks.csv")


def commands() -> Iterator[tuple[str, click.Command]]:
    """Every command by name."""
    assert isinstance(main, click.Group)
    yield from main.commands.items()


def test_the_readme_has_one_paragraph_and_then_two_commands() -> None:
    paragraphs = README.split("\n\n")
    assert paragraphs[0] == "# season"
    assert paragraphs[2].startswith("## ")
    assert len(BLOCKS) == 2
    assert all(block.count("\n") == 1 for block in BLOCKS)


def test_the_first_command_plans_a_sample_farm_and_names_what_it_wrote(tmp_path: Path) -> None:
    tree = shutil.copytree(ROOT, tmp_path / "tree", ignore=shutil.ignore_patterns(*NOT_COPIED))
    done = subprocess.run(BLOCKS[0], shell=True, cwd=tree, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    assert all(name in done.stdout for name in WRITTEN)


def test_the_second_command_is_the_one_that_ci_runs() -> None:
    assert BLOCKS[1] in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


@pytest.mark.parametrize(("name", "command"), list(commands()), ids=[name for name, _ in commands()])
def test_a_command_has_help_with_an_example(name: str, command: click.Command) -> None:
    text = command.get_help(click.Context(command, info_name=name))
    assert f"season {name}" in text.partition("Example")[2], text


def test_every_command_that_the_readme_names_exists() -> None:
    named = set(re.findall(r"`season ([a-z]+)", README))
    assert named
    assert named <= {name for name, _ in commands()}


def test_the_readme_names_every_file_that_a_plan_writes() -> None:
    assert all(f"| `{name}` |" in README for name in WRITTEN)
