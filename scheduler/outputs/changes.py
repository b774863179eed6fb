"""changes.json: what the new plan changes against the one before; no other file depends on it."""

from scheduler.outputs.json import Value, json_text
from scheduler.report import Changes, SeasonReport, Task, TaskChange, change_sentence, sorted_changes

SCHEMA = "season-changes/1"


def changes_json(report: SeasonReport, changes: Changes) -> str:
    """The text of changes.json; of a first plan it holds no change, and `since` is null."""
    return json_text(
        {
            "schema": SCHEMA,
            "made_for": changes.made_for,
            "since": changes.since,
            "changes": [_change(report, change) for change in sorted_changes(changes)],
        }
    )


def _change(report: SeasonReport, change: TaskChange) -> Value:
    task = change.task
    return {
        "uid": task.uid,
        "what": change.what,
        "kind": task.kind,
        "cohort": task.cohort,
        "group": task.group,
        "label": task.label,
        "use": task.use,
        "before": None if change.before is None else _state(change.before),
        "now": _state(task),
        "text": change_sentence(report, change),
    }


def _state(task: Task) -> Value:
    return {
        "sequence": task.sequence,
        "date": task.day,
        "status": task.status,
        "head": task.head,
        "dose_ml": task.dose_ml,
        "text": task.text,
    }
