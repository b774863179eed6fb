"""tasks.csv: the tasks as rows for a spreadsheet (RFC 4180), with cells that no spreadsheet takes for a formula."""

import csv
import io
from datetime import date
from decimal import Decimal

from scheduler.outputs.json import digits
from scheduler.report import Clear, Protects, SeasonReport, Task
from scheduler.words import two_decimals

Cell = str | int | Decimal | date | None
COLUMNS = (
    "uid", "date", "kind", "status", "group", "cohort", "head", "label", "use", "targets", "repeat_of", "dose_ml",
    "task_ml", "heaviest_kg", "protects_from", "protects_to", "fades_until", "clear_meat", "clear_milk",
    "clear_export", "clear_wool", "money_minor", "text",
)  # fmt: skip
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def tasks_csv(report: SeasonReport) -> str:
    """The text of tasks.csv: a header, then a row for each task in the plan's order; absent values are empty."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    writer.writerows([_cell(value) for value in _row(task)] for task in report.plan.tasks)
    return text.getvalue()


def _row(task: Task) -> tuple[Cell, ...]:
    protects = task.protects or Protects(None, None, None)
    clear = task.clear or Clear(None, None, None, None)
    return (
        task.uid,
        task.day,
        task.kind,
        task.status,
        task.group,
        task.cohort,
        task.head,
        task.label,
        task.use,
        ";".join(task.targets or ()),
        task.repeat_of,
        task.dose_ml,
        task.task_ml,
        None if task.heaviest_kg is None else two_decimals(task.heaviest_kg),
        protects.first,
        protects.last,
        protects.fades_until,
        clear.meat,
        clear.milk,
        clear.export,
        clear.wool,
        task.money_minor,
        task.text,
    )


def _cell(value: Cell) -> str:
    if value is None:
        return ""
    if isinstance(value, Decimal):
        return digits(value)
    text = value.isoformat() if isinstance(value, date) else str(value)
    return f"'{text}" if isinstance(value, str) and text.startswith(FORMULA_STARTS) else text
