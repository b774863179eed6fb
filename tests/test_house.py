"""The rules of the house: sizes, public names, data with sources, words that belong to no product."""

import ast
import re
import tomllib
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from scheduler.farm import Farm, read_farm

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "scheduler"
MODULES = sorted(
    [
        *PACKAGE.rglob("*.py"),
        *(ROOT / "tests").rglob("*.py"),
        *(ROOT / "benchmarks").rglob("*.py"),
        *(ROOT / "docs").rglob("*.py"),
    ]
)
FACT_FILES = sorted((PACKAGE / "facts").glob("*.toml"))
MOST_LINES_OF_A_FUNCTION = 50
MOST_LINES_OF_A_MODULE = 300
MACHINE_PATHS = re.compile(r"(?<![\w.])/(work|root|tmp|home)/[a-z]")
WAYS_OF_WORK = re.compile(r"\b(TODO|FIXME|XXX|HACK)\b|NotImplementedError")
OURS = ("scheduler", "tests", "benchmarks", "docs", "templates", "sample_data", ".ci")


def name_of(path: object) -> str:
    """A path as the reports show it."""
    return str(path.relative_to(ROOT)) if isinstance(path, Path) else str(path)


def texts() -> Iterator[tuple[str, str]]:
    """Every text file of the project, by name."""
    inside = [path for folder in OURS for path in (ROOT / folder).rglob("*") if path.is_file()]
    for path in sorted([*ROOT.glob("*.md"), *ROOT.glob("*.toml"), *inside]):
        raw = path.read_bytes()
        if b"\0" not in raw and "__pycache__" not in path.parts:
            yield name_of(path), raw.decode("utf-8")


def figures(table: dict[str, Any], path: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every table that holds a number, with its path; numbers stand in `value` or `levels` or a list of them."""
    if any(isinstance(value, int | float) and not isinstance(value, bool) for value in table.values()):
        yield path, table
    for key, value in table.items():
        inner = value if isinstance(value, list) else [value]
        for part in inner:
            if isinstance(part, dict):
                yield from figures(part, f"{path}.{key}")


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_no_module_is_longer_than_the_hard_stop(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES_OF_A_MODULE


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_no_function_is_longer_than_the_hard_stop(path: Path) -> None:
    nodes = ast.walk(ast.parse(path.read_text(encoding="utf-8")))
    functions = [node for node in nodes if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)]
    long = [node.name for node in functions if (node.end_lineno or 0) - node.lineno + 1 > MOST_LINES_OF_A_FUNCTION]
    assert long == []


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("__init__.py")), ids=name_of)
def test_a_package_names_what_others_may_use_and_has_no_other_code(path: Path) -> None:
    body = ast.parse(path.read_text(encoding="utf-8")).body
    assert isinstance(body[0], ast.Expr), "a docstring first"
    rest = [node for node in body[1:] if not isinstance(node, ast.ImportFrom | ast.Import)]
    if path.parent == PACKAGE:
        assert rest == []
        return
    assert [re.split(r"\W", ast.unparse(node))[0] for node in rest] == ["__all__"]


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("__init__.py")), ids=name_of)
def test_every_public_name_of_a_package_has_a_docstring_or_a_value(path: Path) -> None:
    for module in sorted(path.parent.glob("*.py")):
        for node in ast.parse(module.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
                assert ast.get_docstring(node), f"{name_of(module)}: {node.name}"


def test_no_file_names_a_path_of_a_machine() -> None:
    found = [name for name, text in texts() if MACHINE_PATHS.search(text) and name != name_of(Path(__file__))]
    assert found == []


def test_nothing_is_left_for_later() -> None:
    named = [name for name, text in texts() if name.endswith(".py") and WAYS_OF_WORK.search(text)]
    assert set(named) <= {name_of(Path(__file__))}


@pytest.mark.parametrize("path", FACT_FILES, ids=name_of)
def test_every_number_of_the_facts_has_unit_source_and_how_it_was_seen(path: Path) -> None:
    sources = tomllib.loads((PACKAGE / "facts" / "sources.toml").read_text(encoding="utf-8"))
    for where, table in figures(tomllib.loads(path.read_text(encoding="utf-8"))):
        assert {"unit", "source", "seen"} <= table.keys(), where
        assert table["source"] in sources, where


def test_every_sample_farm_and_label_says_that_it_is_invented() -> None:
    tables = sorted([*ROOT.glob("sample_data/*/farm.toml"), *ROOT.glob("sample_data/*/labels/*.toml")])
    assert len(tables) >= 9
    for path in tables:
        text = path.read_text(encoding="utf-8")
        assert "invented" in text.splitlines()[0], name_of(path)
        assert "invented" in text.partition("name = ")[2].splitlines()[0], name_of(path)


@pytest.mark.parametrize("name", ["fellside", "lowland-organic", "southern"])
def test_a_sample_farm_is_read_whole_and_without_a_fault(name: str) -> None:
    folder = ROOT / "sample_data" / name
    tables = sorted([*folder.glob("*.toml"), *folder.glob("*.csv"), *folder.glob("labels/*.toml")])
    farm = read_farm({str(path.relative_to(folder)): path.read_bytes() for path in tables}, date(2027, 9, 1))
    assert isinstance(farm, Farm), farm
    assert 3 <= len(farm.groups) <= 6
    assert 2 <= len(farm.labels) <= 3
