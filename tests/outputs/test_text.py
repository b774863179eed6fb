"""What the terminal shows: at most 80 columns, plain text, and the sums of the plan."""

import pytest

from scheduler.outputs import conflicts_text, plan_text
from tests.outputs.conftest import Snapshot
from tests.outputs.plans import REPORTS, cohort, conflict_of_sale, empty_report, rich_report

PATHS = ("plan/calendar.ics", "plan/summary.html")


@pytest.mark.parametrize("name", REPORTS)
def test_no_line_is_wider_than_80_columns(name: str) -> None:
    for line in plan_text(REPORTS[name](), ("Dose moved from 1 to 2 May. " * 8,), PATHS).splitlines():
        assert len(line) <= 80
        assert line.isprintable()


def test_an_empty_plan_says_that_nothing_is_to_do() -> None:
    text = plan_text(empty_report(), (), PATHS)
    assert "Next: nothing to do in this season." in text
    assert "Score: 0 exposed sheep-days, GBP 0.00, 0 gathers, 0 handlings." in text
    assert text.endswith("Files:\n  plan/calendar.ics\n  plan/summary.html\n")


def test_a_proof_and_a_gap_are_told_apart() -> None:
    assert "Proved:" in plan_text(empty_report())
    assert "Best found, not proved:" in plan_text(rich_report())
    assert "0 exposed sheep-days\n  and GBP 12.50." in plan_text(rich_report())


def test_only_the_first_changes_are_listed_and_the_others_counted() -> None:
    text = plan_text(empty_report(), [f"Change {n}." for n in range(9)])
    assert "Change 5." in text
    assert "Change 6." not in text
    assert "and 3 other changes." in text


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
    snapshot("rich.txt", plan_text(rich_report(), ("Dose of 12 May moved to 27 May.",), PATHS).encode())
