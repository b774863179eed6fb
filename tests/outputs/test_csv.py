"""tasks.csv: RFC 4180, read back by the standard library, and inert in a spreadsheet."""

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from scheduler.outputs import tasks_csv
from scheduler.report import SeasonReport
from tests.outputs.conftest import Snapshot
from tests.outputs.pieces import DRAFT, plan, report
from tests.outputs.plans import REPORTS, empty_report, hostile_report, rich_report

COLUMNS = (
    "uid,date,kind,status,group,cohort,head,label,use,targets,repeat_of,dose_ml,task_ml,heaviest_kg,protects_from,"
    "protects_to,fades_until,clear_meat,clear_milk,clear_export,clear_wool,money_minor,text"
)


def rows(of: SeasonReport) -> list[dict[str, str]]:
    """The rows as a reader of CSV sees them."""
    return list(csv.DictReader(io.StringIO(tasks_csv(of), newline="")))


def test_an_empty_plan_has_the_header_alone() -> None:
    assert tasks_csv(empty_report()) == COLUMNS + "\r\n"


@pytest.mark.parametrize("name", REPORTS)
def test_every_task_is_a_row(name: str) -> None:
    told = REPORTS[name]()
    read = rows(told)
    assert [row["date"] for row in read] == [task.day.isoformat() for task in told.plan.tasks]
    assert [row["kind"] for row in read] == [task.kind for task in told.plan.tasks]
    assert all(len(row) == len(COLUMNS.split(",")) and None not in row.values() for row in read)


def test_a_dose_says_all_its_figures() -> None:
    repeat = next(row for row in rows(rich_report()) if row["repeat_of"])
    uid = "fell-2027-dose-top-lambs-autumn-draft-hill-pour-on-0617"
    assert list(repeat.values()) == [
        uid, "2027-06-17", "dose", "planned", "Top lambs", "Top lambs/Autumn draft", "60", "hill-pour-on", "guard",
        "blowfly-strike;ticks", uid.replace("0617", "0527"), "10.5", "630", "22.41", "2027-06-17", "2027-07-28",
        "2027-08-11", "2027-06-26", "", "", "2027-08-17", "6150",
        f"Top lambs: hill-pour-on, 10.5 ml a head, 630 ml in all. {DRAFT}",
    ]  # fmt: skip


def test_absent_values_are_empty_cells() -> None:
    look = next(row for row in rows(rich_report()) if row["kind"] == "recheck")
    assert {name for name, cell in look.items() if cell} == {"uid", "date", "kind", "status", "group", "text"}


def test_hostile_cells_are_made_inert_and_else_unchanged() -> None:
    first, second = rows(hostile_report())
    task = hostile_report().plan.tasks[0]
    assert first["label"] == "'=label"
    assert first["text"] == "'" + task.text
    assert first["group"] == task.group
    assert (second["uid"], second["group"], second["text"]) == ("'-minus", "'@group", "'-1")


@settings(deadline=None)
@given(st.text(st.characters(codec="utf-8", exclude_characters="\0"), min_size=1))
def test_no_cell_begins_as_a_formula(text: str) -> None:
    task = replace(rich_report().plan.tasks[0], text=text, group=text)
    (row,) = rows(report(plan(tasks=(task,))))
    for cell in (row["text"], row["group"]):
        assert cell[0] not in "=+-@\t\r"
        assert cell.removeprefix("'") == text.removeprefix("'")


def test_the_rich_tasks_as_kept(snapshot: Snapshot) -> None:
    snapshot("rich.csv", tasks_csv(rich_report()).encode())
