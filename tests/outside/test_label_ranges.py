"""The invented labels of the sample farms keep within figures printed for the same active.

Source: data/label_ranges_by_active.csv, a source a row (data sheets, label summaries and the farming press; stored
pages but for rows marked "memory"). The meat period of a cyromazine pour-on (3 or 28 days by product) is from memory.
"""

import re
import tomllib
from typing import Any

import pytest

from scheduler.facts import label_ranges
from tests.outside.plans import SAMPLES
from tests.outside.tables import Row, rows

TABLE = rows("label_ranges_by_active.csv")
LABELS = sorted(SAMPLES.glob("*/labels/*.toml"))
DAYS_A_WEEK = 7
FROM_MEMORY = {("cyromazine", "pour-on"): {3, 28}}
COMMON_PRACTICE_WEEKS = {"cypermethrin": 8}


def label_of(path: Any) -> dict[str, Any]:
    """A label file as it is written."""
    return tomllib.loads(path.read_text(encoding="utf-8"))


def printed(label: dict[str, Any]) -> list[Row]:
    """The rows of the label's active and form (a dip is a plunge dip there)."""
    forms = {"dip": "plunge dip"}
    form = forms.get(label["form"], label["form"])
    return [row for row in TABLE if row["active"] == label["active"] and row["form"].startswith(form)]


def numbers(text: str) -> list[int]:
    """The whole numbers of a cell such as "14-56"."""
    return [int(found) for found in re.findall(r"\d+", text)]


@pytest.mark.parametrize("path", LABELS, ids=lambda path: path.stem)
def test_meat_withdrawal_lies_within_the_printed_ones(path: Any) -> None:
    label = label_of(path)
    days = {day for row in printed(label) for day in numbers(row["meat_wp_days"])}
    days |= FROM_MEMORY.get((label["active"], label["form"]), set())
    assert min(days) <= label["withdrawal"]["meat"] <= max(days)


@pytest.mark.parametrize("path", LABELS, ids=lambda path: path.stem)
def test_protection_is_no_longer_than_the_longest_printed(path: Any) -> None:
    label = label_of(path)
    weeks = [week for row in TABLE if row["active"] == label["active"] for week in numbers(row["protection"])]
    most = max([*weeks, COMMON_PRACTICE_WEEKS.get(label["active"], 0)])
    for use in label["use"]:
        assert use.get("protects_days", [0, 0])[1] <= most * DAYS_A_WEEK


@pytest.mark.parametrize("path", LABELS, ids=lambda path: path.stem)
def test_a_sample_label_is_never_given_as_checked(path: Any) -> None:
    assert "checked" not in label_of(path)


def test_there_are_labels_of_every_sample_farm() -> None:
    assert len({path.parent.parent.name for path in LABELS}) == 3


OUR_FORMS = {"plunge dip": "dip", "spot-on": "pour-on"}
PRINTED_DAYS = [row for row in TABLE if row["meat_wp_days"]]


@pytest.mark.parametrize("row", PRINTED_DAYS, ids=lambda row: f"{row['active']} {row['form']}")
def test_no_printed_meat_withdrawal_would_be_doubted(row: Row) -> None:
    """The ranges that a typed label is compared with hold every printed figure of the table."""
    form = next((ours for printed_form, ours in OUR_FORMS.items() if row["form"].startswith(printed_form)), None)
    form = form or row["form"].split()[0]
    ranges = [one for one in label_ranges() if (one.active, one.form, one.figure) == (row["active"], form, "meat")]
    for days in numbers(row["meat_wp_days"]):
        assert any(one.least is not None and one.most is not None and one.least <= days <= one.most for one in ranges)
