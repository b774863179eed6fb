"""The small changes that mutation tests make: which there are, and what is left alone."""

import ast
from pathlib import Path
from textwrap import dedent

import pytest

from benchmarks.mutants import ROOT, judged, reaching, sample_of
from benchmarks.mutations import Mutant, mutants_of, mutated


def changes(code: str) -> set[str]:
    """What stands in the place of a statement, in each mutant."""
    return {mutant.after for mutant in mutants_of("one.py", dedent(code))}


@pytest.mark.parametrize(
    ("code", "expected"),
    [
        ("x = a < b", {"x = a <= b"}),
        ("x = a <= b < c", {"x = a < b < c", "x = a <= b <= c"}),
        ("x = a == b", {"x = a != b"}),
        ("x = a is None", {"x = a is not None"}),
        ("x = a not in b", {"x = a in b"}),
        ("x = a and b", {"x = a or b", "x = a", "x = b"}),
        ("x = not a", {"x = a"}),
        ("x = a + b", {"x = a - b"}),
        ("x = a // 2", {"x = a * 2", "x = a // 3", "x = a // 1"}),
        ("x = True", {"x = False"}),
        ("x = min(a, default=b)", {"x = max(a, default=b)"}),
        ("x = any(a)", {"x = all(a)"}),
        ("x = sorted(a, key=b)", {"x = list(a)"}),
        ("f = g(a[b:])", {"f = g(a[:])"}),
        ("x = [a for a in b if c(a)]", {"x = [a for a in b]"}),
        ("x = a if b else c", {"x = a if not b else c"}),
        ("x += y", {"x -= y", "pass"}),
        ("x[y] = z", {"pass"}),
        ("f(x)", {"pass"}),
        ("x = y in ('ewe', 'lamb')", {"x = y not in ('ewe', 'lamb')", "x = y in ('ewe',)", "x = y in ('lamb',)"}),
    ],
)
def test_a_statement_has_these_mutants(code: str, expected: set[str]) -> None:
    assert changes(code) == expected


def test_a_function_can_return_nothing_and_an_if_be_turned_round() -> None:
    code = """
        def f(x):
            if x:
                return x
            return None
        """
    assert changes(code) == {"if not x:", "return None"}


@pytest.mark.parametrize(
    "code",
    [
        '"""Words."""',
        "import one",
        "__all__ = ['one', 'two']",
        "Day = Literal['one', 'two']",
        "x = 'a text'",
        "x: a | b",
        "x = Rule(sources=('one', 'two'))",
        "x = f'{y} head'",
    ],
)
def test_texts_hints_and_names_are_left_alone(code: str) -> None:
    assert changes(code) == set()


def test_figures_inside_a_sentence_are_code() -> None:
    assert changes("x = f'{a + b} head'") == {"x = f'{a - b} head'"}


def test_each_mutant_is_one_change_that_still_compiles_and_names_its_lines() -> None:
    path = ROOT / "scheduler" / "season" / "cover.py"
    text = path.read_text(encoding="utf-8")
    plain = ast.unparse(ast.parse(text))
    mutants = mutants_of("cover.py", text)
    assert len({mutant.key for mutant in mutants}) == len(mutants) > 20
    for mutant in mutants:
        changed = mutated(text, mutant.number)
        compile(changed, "cover.py", "exec")
        assert changed != plain
        assert 1 <= mutant.lines[0] <= mutant.lines[1] <= len(text.splitlines())


def test_a_sample_is_the_same_each_time_and_a_smaller_one_is_part_of_it() -> None:
    few, many = (
        {mutant.key for mutant in sample_of(Path(ROOT), count, seed=6, packages=("verify",))} for count in (5, 20)
    )
    assert (len(few), len(many)) == (5, 20)
    assert few < many


def test_tests_that_name_the_rule_go_first() -> None:
    reach = {"lines": {"dose/dose_band.py": {"3": ["a", "b[dose-band]"]}}, "seconds": {"a": 1.0, "b[dose-band]": 1.5}}
    assert reaching(Mutant("dose/dose_band.py", 0, (3, 3), "", ""), reach) == (["b[dose-band]", "a"], [])


def test_tests_are_run_from_the_quickest_and_none_beyond_the_time_allowed() -> None:
    reach = {
        "lines": {"one.py": {"3": ["slow", "quick"], "4": ["other", "endless"], "9": ["far"]}},
        "seconds": {"slow": 9.0, "quick": 1.0, "other": 1.5, "endless": 500.0, "far": 0.1},
    }
    assert reaching(Mutant("one.py", 0, (3, 4), "", ""), reach) == (["quick", "other"], ["slow"])


def test_a_line_that_only_an_import_reaches_is_held_to_all_tests_of_its_file() -> None:
    reach = {"lines": {"one.py": {"1": [], "3": ["b"], "4": ["a"]}}, "seconds": {"a": 1.0, "b": 1.0}}
    assert reaching(Mutant("one.py", 0, (1, 1), "", ""), reach) == (["a", "b"], [])


def test_each_mutant_judged_the_same_has_a_reason_and_is_still_one_of_the_code() -> None:
    packages = ("rules", "season", "verify")
    every = {mutant.key for mutant in sample_of(Path(ROOT), 10**6, seed=6, packages=packages)}
    assert set(judged()) <= every
    assert all(why.endswith(".") for why in judged().values())
