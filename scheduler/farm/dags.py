"""Dags: dung in the wool, from the day on which it is found until it is taken off."""

from datetime import date

from scheduler.facts import facts
from scheduler.farm.model import Farm, Finding
from scheduler.words import plus


def standing_dags(farm: Farm, group: str, day: date) -> Finding | None:
    """The latest finding of dags in a group that still stands on the day; None where none does.

    It stands for `dirty_fleece_days`. Crutching and shearing end it, on the day of the finding too; so does the day
    from which it is cleared.
    """
    most = facts().figures.dirty_fleece_days.whole
    cleaned = [
        event.first for event in farm.events if event.what in ("crutching", "shearing") and group in event.groups
    ]
    return max(
        (row for row in farm.findings
         if row.what == "dags" and row.group == group and row.day <= day <= plus(row.day, most)
         and (row.cleared is None or day < row.cleared)
         and not any(row.day <= clean <= day for clean in cleaned)),
        key=lambda row: row.day,
        default=None,
    )  # fmt: skip
