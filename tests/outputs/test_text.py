"""What the terminal shows: at most 80 columns, plain text, and the sums of the plan."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from scheduler.outputs import conflicts_text, plan_text
from scheduler.report import Changes, Task, TaskChange
from tests.outputs.conftest import Snapshot
from tests.outputs.pieces import cohort, conflict_of_sale, day
from tests.outputs.plans import REPORTS, empty_report, rich_report

PATHS = ("plan/calendar.ics", "plan/summary.html")
TASKS = rich_report().plan.tasks


def changed(*changes: TaskChange) -> Changes:
    """Changes since the tenth of May."""
    return Changes(made_for=day(5, 20), since=day(5, 10), changes=changes)


def new(task: Task) -> TaskChange:
    """A task that was not there before."""
    return TaskChange(task=task, before=None, what=("new",))


MANY = changed(*(new(task) for task in TASKS))
FIRST = next(task for task in TASKS if task.kind == "dose" and task.status == "planned")
GONE = next(task for task in TASKS if task.status == "cancelled")
FEW = changed(
    TaskChange(task=FIRST, before=replace(FIRST, day=day(5, 12), dose_ml=Decimal(8)), what=("moved", "dose-changed")),
    TaskChange(task=GONE, before=replace(GONE, status="planned"), what=("gone",)),
)


@pytest.mark.parametrize("name", REPORTS)
def test_no_line_is_wider_than_80_columns(name: str) -> None:
    for line in plan_text(REPORTS[name](), MANY, PATHS).splitlines():
        assert len(line) <= 80
        assert line.isprintable()


def test_an_empty_plan_says_that_nothing_is_to_do() -> None:
    text = plan_text(empty_report(), None, PATHS)
    assert "Next: nothing to do in this season." in text
    assert "Score: 0 exposed sheep-days, GBP 0.00, 0 gathers, 0 handlings." in text
    assert text.endswith("Files:\n  plan/calendar.ics\n  plan/summary.html\n")


def test_a_proof_and_a_gap_are_told_apart() -> None:
    assert "Proved:" in plan_text(empty_report())
    assert "Best found, not proved:" in plan_text(rich_report())
    assert "0 exposed sheep-days\n  and GBP 12.50." in plan_text(rich_report())


def test_only_the_first_changes_are_listed_and_the_others_counted() -> None:
    text = plan_text(rich_report(), MANY)
    assert "Changed since the earlier plan:\n  Dose Top lambs, 60 head (for Autumn draft): 10.5 ml" in text
    assert f"and {len(TASKS) - 6} other changes, in changes.json." in text


def test_a_change_says_what_was_and_what_is() -> None:
    text = " ".join(plan_text(rich_report(), FEW).split())
    assert "Demo hill pour on (invented): from 12 May 2027 to 27 May 2027, 8 ml before, 10.5 ml now." in text
    assert "called off, was 2 Sep 2027." in text


def test_a_conflict_reads_rule_figures_clash_and_choices() -> None:
    told = conflicts_text([conflict_of_sale(cohort("Top lambs", 60, "Autumn draft"))], "GBP", 2)
    assert told.splitlines() == [
        "cover-gap (warn): Top lambs, 60 head: exposed to blowfly strike from 12 to 19",
        "  Aug, 8 days. (groups.csv, row 3)",
        "  clash    meat-withdrawal: Autumn draft on 20 Aug needs 8 clear days before it.",
        "           (sales.csv, row 4)",
        "  clash    repeat-interval: 42 days between courses. (labels/hill-pour-on.toml,",
        "           limits)",
        "  keeper   Sell on 21 Aug.",
        "           480 exposed sheep-days fewer, GBP 61.50 more, 1 handling more",
        "  keeper   No dose; inspect daily.",
        "           0 exposed sheep-days, GBP 0.00, 0 handlings",
        "  vet      Ask the vet for another way.",
        "           1,140 exposed sheep-days more, GBP 61.50 less, 1 handling fewer",
    ]


def test_without_a_currency_choices_are_told_without_money() -> None:
    told = conflicts_text([conflict_of_sale(cohort("Top lambs", 60, "Autumn draft"))])
    assert "480 exposed sheep-days fewer, 1 handling more\n" in told


def test_the_rich_text_as_kept(snapshot: Snapshot) -> None:
    snapshot("rich.txt", plan_text(rich_report(), FEW, PATHS).encode())
