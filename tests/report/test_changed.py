"""What a plan changes, in words and in the order in which they are told."""

from datetime import date
from decimal import Decimal

from msgspec.structs import replace

from scheduler.report import Changes, Task, TaskChange, changed_lines
from tests.outputs.pieces import day
from tests.outputs.plans import rich_report

TOLD = rich_report()


def task(kind: str, **changed: object) -> Task:
    """A task of the kind, with some of its fields others."""
    found = next(one for one in TOLD.plan.tasks if one.kind == kind and one.status == "planned")
    return replace(found, **changed)


def change(after: Task, before: Task | None, *what: str) -> TaskChange:
    """A change of one task."""
    return TaskChange(task=after, before=before, what=what)  # type: ignore[arg-type]


def lines(*changes: TaskChange) -> tuple[str, ...]:
    """What is told of them."""
    return changed_lines(TOLD, Changes(made_for=date(2027, 5, 20), since=date(2027, 5, 10), changes=changes))


def ends(*changes: TaskChange) -> list[str]:
    """What is told of them, without the task itself."""
    return [line.rpartition(": ")[2] for line in lines(*changes)]


def test_each_fate_has_its_words() -> None:
    dose = task("dose", day=day(5, 27), dose_ml=Decimal("10.5"))
    old = replace(dose, day=day(5, 25), dose_ml=Decimal(8), head=1)
    done = replace(dose, status="done")
    assert ends(change(dose, old, "moved", "dose-changed", "head-changed")) == [
        f"from 25 May 2027 to 27 May 2027, 8 ml before, 10.5 ml now, 1 head before, {dose.head} head now."
    ]
    assert ends(change(done, old, "done", "moved")) == ["done, 27 May 2027, planned for 25 May 2027."]
    assert ends(change(replace(dose, status="missed"), dose, "missed")) == ["missed, was 27 May 2027."]
    assert ends(change(replace(dose, status="cancelled"), dose, "gone")) == ["called off, was 27 May 2027."]
    assert ends(change(dose, replace(dose, status="cancelled"), "again")) == ["planned again, 27 May 2027."]
    assert ends(change(dose, None, "new")) == ["new, 27 May 2027."]
    assert ends(change(dose, dose, "text-changed")) == ["reads otherwise now."]


def test_what_lies_ahead_is_told_before_what_was_done_and_what_went_by() -> None:
    sale, dose, look, clear = (task(kind) for kind in ("sale", "dose", "recheck", "clear"))
    told = lines(
        change(replace(look, status="cancelled"), look, "past"),
        change(replace(clear, status="done"), clear, "done"),
        change(replace(dose, status="missed"), dose, "missed"),
        change(look, None, "new"),
        change(sale, None, "new"),
        change(dose, None, "new"),
    )
    assert [(line.split()[0], line.rpartition(": ")[2].split(",")[0]) for line in told] == [
        ("Dose", "new"), ("Sell", "new"), ("Look", "new"), ("Dose", "missed"),
        ("Clear", "its day has come"), ("Look", "its day is over"),
    ]  # fmt: skip
