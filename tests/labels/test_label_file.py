"""A label file is changed where the leaflet says otherwise, and nowhere else."""

import tomllib
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from scheduler.labels.label_file import filed, filed_at, filled
from scheduler.labels.leaflet import Answers, leaflet
from scheduler.labels.questions import Question, Value

DAY = date(2027, 3, 1)
SAMPLES = sorted((Path(__file__).parent.parent.parent / "sample_data").glob("*/labels/*.toml"))
LABEL = """\
# my notes stay
name = "Demo pour-on (invented)"   # a name
active = "cypermethrin"
chemical_group = "synthetic pyrethroid"
form = "pour-on"
countries = ["GB"]

[withdrawal]
meat = 8      # from the leaflet
milk = 5

[[pack]]
ml = 2500
price = 92.00   # last year's

[[use]]
id = "guard"
targets = ["ticks"]
purpose = "prevent"
protects_days = [42, 56] # six to eight weeks
dry_hours = { before = 0, after = 6 }

[[use.dose]]
upto_kg = 10
ml = 5.0
# heavy ones
[[use.dose]]
above_kg = 10
ml_per_kg = 0.5
step_ml = 5

[[use]]
id = "struck"
targets = ["blowfly-strike"]
purpose = "treat"
[[use.dose]]
ml_per_100cm2 = 2.5
"""


def answers_of(content: str, other: dict[tuple[str | int, ...], Value] | None = None) -> Answers:
    """What somebody answers who reads from the file itself, but for some figures."""
    label = filed(content)

    def ask(question: Question) -> Value:
        return (other or {}).get(question.path, filed_at(label, question.path))

    return leaflet(ask)


def changed_lines(other: dict[tuple[str | int, ...], Value]) -> list[str]:
    """The lines of the changed file that the file did not have, `checked` apart."""
    written, _ = filled(LABEL, answers_of(LABEL, other), DAY)
    tomllib.loads(written)
    assert "checked = 2027-03-01" in written
    return [line for line in written.splitlines() if line not in LABEL.splitlines() and "checked" not in line]


def lost_lines(other: dict[tuple[str | int, ...], Value]) -> list[str]:
    written, _ = filled(LABEL, answers_of(LABEL, other), DAY)
    return [line for line in LABEL.splitlines() if line not in written.splitlines()]


def test_with_the_same_figures_only_the_day_is_added() -> None:
    written, changes = filled(LABEL, answers_of(LABEL), DAY)
    assert changes == ()
    assert written.replace("checked = 2027-03-01\n", "") == LABEL
    assert written.index("checked") < written.index("[withdrawal]")


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_the_sample_labels_keep_every_line(path: Path) -> None:
    content = path.read_text(encoding="utf-8")
    written, changes = filled(content, answers_of(content), DAY)
    assert changes == ()
    assert written.replace("checked = 2027-03-01\n", "") == content


def test_checked_again_the_old_day_goes() -> None:
    once, _ = filled(LABEL, answers_of(LABEL), DAY)
    again, _ = filled(once, answers_of(once), date(2028, 3, 1))
    assert again == once.replace("2027-03-01", "2028-03-01")


@pytest.mark.parametrize(("other", "lines"), [
    ({("withdrawal", "meat"): 28}, ["meat = 28      # from the leaflet"]),
    ({("withdrawal", "export"): 21}, ["export = 21"]),
    ({("withdrawal", "milk"): "not-permitted"}, ['milk = "not-permitted"']),
    ({("use", 0, "protects_days", "least"): 40}, ["protects_days = [40, 56] # six to eight weeks"]),
    ({("use", 0, "dry_hours", "after"): Decimal(12)}, ["dry_hours = { before = 0, after = 12 }"]),
    ({("use", 0, "dose", 0, "amount"): ("ml", Decimal("7.5"))}, ["ml = 7.5"]),
    ({("use", 0, "dose", 1, "amount"): ("ml", Decimal(20))}, ["ml = 20"]),
    ({("limits", "repeat_interval"): 42}, ["[limits]", "repeat_interval = 42"]),
])  # fmt: skip
def test_a_figure_is_changed_in_its_own_line(other: dict[tuple[str | int, ...], Value], lines: list[str]) -> None:
    assert changed_lines(other) == lines


def test_a_change_is_told_with_what_was_and_what_is() -> None:
    _, changes = filled(LABEL, answers_of(LABEL, {("withdrawal", "meat"): 28}), DAY)
    assert [str(change) for change in changes] == ["withdrawal.meat: the file said 8, the leaflet says 28"]


def test_what_the_leaflet_does_not_state_is_left_out() -> None:
    assert lost_lines({("withdrawal", "milk"): None}) == ["milk = 5"]


@pytest.mark.parametrize(("key", "line"), [("meat", "meat = 8      # from the leaflet"), ("milk", "milk = 5")])
def test_a_withdrawal_of_zero_days_is_another_thing_than_none_stated(key: str, line: str) -> None:
    content = LABEL.replace(line, f"{key} = 0")
    written, changes = filled(content, answers_of(content, {("withdrawal", key): None}), DAY)
    assert key not in filed(written)["withdrawal"]
    assert [str(one) for one in changes] == [f"withdrawal.{key}: the file said 0, the leaflet says not stated"]


def test_what_is_left_out_as_zero_is_no_change() -> None:
    assert changed_lines({("use", 0, "works_after_days"): 0, ("use", 0, "dry_hours", "before"): None}) == []


def test_a_further_band_and_a_repeat_are_added_in_their_use() -> None:
    dose = ("use", 0, "dose")
    other = {
        (*dose, "count"): 3,
        (*dose, 1, "upto_kg"): Decimal(50),
        (*dose, 2, "above_kg"): Decimal(50),
        (*dose, 2, "amount"): ("ml", Decimal(25)),
        ("use", 0, "repeat", "count"): 1,
        ("use", 0, "repeat", 0, "after_days"): 21,
        ("use", 0, "repeat", 0, "ml"): Decimal(10),
    }
    written, changes = filled(LABEL, answers_of(LABEL, other), DAY)  # type: ignore[arg-type]
    use = filed(written)["use"][0]
    assert use["dose"][2] == {"above_kg": 50, "ml": 25}
    assert use["repeat"] == [{"after_days": 21, "ml": 10}]
    assert [change.key for change in changes][:2] == ["use[1].dose", "use[1].dose[2].upto_kg"]


def test_a_band_too_many_is_taken_out() -> None:
    written, _ = filled(LABEL, answers_of(LABEL, {("use", 0, "dose", "count"): 1}), DAY)
    assert filed(written)["use"][0]["dose"] == [{"upto_kg": 10, "ml": 5}]
    assert "# my notes stay" in written


def test_groups_kept_apart_are_written_within_the_limits() -> None:
    apart = ("limits", "not_with")
    other: dict[tuple[str | int, ...], Value] = {
        (*apart, "count"): 1,
        (*apart, 0, "chemical_group"): "organophosphate",
        (*apart, 0, "days"): 14,
    }
    written, _ = filled(LABEL, answers_of(LABEL, other), DAY)
    assert filed(written)["limits"] == {"not_with": [{"chemical_group": "organophosphate", "days": 14}]}


HEAD = 'name = "A (invented)"\nactive = "c"\nchemical_group = "g"\nform = "pour-on"\n'
USE = 'id = "g"\ntargets = ["ticks"]\npurpose = "treat"\n'
LAYOUTS = {
    "in one line": 'pack = [{ ml = 25, price = 9 }]\nuse = [{ id = "g", targets = ["ticks"], purpose = "treat", '
    "dose = [{ ml = 5 }] }]\n[withdrawal]\nmeat = 8\n",
    "dotted keys": f"withdrawal.meat = 8\n[[pack]]\nml = 25\nprice = 9\n[[use]]\n{USE}[[use.dose]]\nml = 5\n",
    "tables of their own": f"[[pack]]\nml = 25\nprice = 9\n[[use]]\n{USE}[use.dry_hours]\nafter = 6\n"
    "[[use.dose]]\nml = 5\n[withdrawal]\nmeat = 8\n[[limits.not_with]]\nchemical_group = 'x'\ndays = 3\n",
    "uses apart": f"[[use]]\n{USE}[[use.dose]]\nml = 5\n[withdrawal]\nmeat = 8\n[[pack]]\nml = 25\nprice = 9\n[[use]]\n"
    f"{USE.replace('g', 'h')}[[use.dose]]\nml = 6\n",
}


@pytest.mark.parametrize("layout", LAYOUTS.values(), ids=LAYOUTS)
def test_a_label_may_be_laid_out_in_any_way_that_toml_has(layout: str) -> None:
    first = ("use", 0)
    other: dict[tuple[str | int, ...], Value] = {
        ("withdrawal", "meat"): 28,
        ("limits", "repeat_interval"): 9,
        (*first, "dry_hours", "after"): Decimal(12),
        (*first, "dose", "count"): 2,
        (*first, "dose", 0, "upto_kg"): Decimal(10),
        (*first, "dose", 1, "above_kg"): Decimal(10),
        (*first, "dose", 1, "amount"): ("ml_per_kg", Decimal("0.5")),
    }
    written, _ = filled(HEAD + layout, answers_of(HEAD + layout, other), DAY)
    label = filed(written)
    assert (label["withdrawal"]["meat"], label["limits"]["repeat_interval"], label["checked"]) == (28, 9, DAY)
    assert label["use"][0]["dry_hours"] == {"after": 12}
    assert label["use"][0]["dose"] == [{"ml": 5, "upto_kg": 10}, {"above_kg": 10, "ml_per_kg": Decimal("0.5")}]
    assert label["use"][1:] == filed(HEAD + layout)["use"][1:]


def test_a_new_label_is_written_from_answers_alone() -> None:
    written, _ = filled("", answers_of(LABEL), DAY)
    assert filed(written) == {**filed(LABEL.replace("before = 0, ", "")), "checked": DAY}
    assert "\n\n[[use.dose]]\n" in written


def test_windows_line_ends_stay() -> None:
    content = LABEL.replace("\n", "\r\n")
    written, _ = filled(content, answers_of(content, {("withdrawal", "meat"): 28}), DAY)
    assert "meat = 28      # from the leaflet\r\n" in written
    assert filed(written)["checked"] == DAY
