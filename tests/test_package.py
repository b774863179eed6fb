"""The wheel works away from the source tree: its command, templates and sample farms come with it.

Runs in a virtual environment of its own, which sees the libraries of this one but not the source tree.
"""

import os
import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
TODAY = "2027-02-20"


def run(command: list[str | Path], folder: Path, allowed: tuple[int, ...] = (0,)) -> str:
    """What a command prints, run in a folder with nothing of the source tree on its way."""
    clean = {key: value for key, value in os.environ.items() if key not in {"PYTHONPATH", "VIRTUAL_ENV"}}
    done = subprocess.run([str(part) for part in command], cwd=folder, env=clean, capture_output=True, text=True)
    assert done.returncode in allowed, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from the source tree."""
    folder = tmp_path_factory.mktemp("wheel")
    run([sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--wheel-dir", folder, ROOT], folder)
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def season(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The command `season`, installed from the wheel."""
    home = tmp_path_factory.mktemp("installed")
    venv.create(home, with_pip=False, symlinks=True)
    (site,) = home.glob("lib/*/site-packages")
    (site / "libraries.pth").write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")
    pip: list[str | Path] = [sys.executable, "-m", "pip", "--python", home / "bin" / "python"]
    run([*pip, "install", "--quiet", "--no-deps", "--force-reinstall", wheel], home)
    return home / "bin" / "season"


def test_the_wheel_holds_templates_sample_farms_and_facts(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    for farm in ("fellside", "lowland-organic", "southern"):
        assert f"scheduler/sample_data/{farm}/farm.toml" in names
    assert any(name.startswith("scheduler/templates/") for name in names)
    assert "scheduler/facts/sources.toml" in names
    assert not any(name.startswith("tests/") for name in names)


def test_the_installed_package_is_not_the_source_tree(season: Path, tmp_path: Path) -> None:
    found = run([season.with_name("python"), "-c", "import scheduler; print(scheduler.__file__)"], tmp_path)
    assert ROOT not in Path(found.strip()).parents


def test_the_installed_command_shows_its_help(season: Path, tmp_path: Path) -> None:
    assert "plan" in run([season, "--help"], tmp_path)


def test_a_sample_farm_is_copied_and_planned_by_the_installed_command(season: Path, tmp_path: Path) -> None:
    run([season, "new", "farm", "--like", "fellside"], tmp_path)
    run([season, "plan", "farm", "--today", TODAY], tmp_path, allowed=(0, 1))
    written = {path.name for path in (tmp_path / "farm" / "plan").iterdir()}
    assert written == {"calendar.ics", "changes.json", "plan.json", "summary.html", "tasks.csv"}
