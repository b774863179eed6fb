"""plan.json and its kin: the contract's keys in the contract's order, numbers exact."""

import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal

from scheduler.report import (
    Choice,
    Clear,
    CohortLine,
    Conflict,
    Plan,
    Protects,
    Run,
    SeasonReport,
    Shopping,
    Task,
)
from scheduler.words import two_decimals

Value = Mapping[str, "Value"] | Sequence["Value"] | str | int | Decimal | date | bool | None


def json_text(value: Value) -> str:
    """The value as JSON (RFC 8259): letters as they are, decimals by their own digits, days as ISO dates."""
    return "".join(_written(value, "\n")) + "\n"


def _written(value: Value, line: str) -> Iterable[str]:
    if isinstance(value, Mapping):
        pairs = [
            f"{json.dumps(key, ensure_ascii=False)}: {''.join(_written(v, line + ' '))}" for key, v in value.items()
        ]
        yield from _enclosed("{", pairs, "}", line)
    elif isinstance(value, Sequence) and not isinstance(value, str):
        yield from _enclosed("[", ["".join(_written(item, line + " ")) for item in value], "]", line)
    elif isinstance(value, Decimal):
        yield digits(value)
    elif isinstance(value, date):
        yield f'"{value.isoformat()}"'
    else:
        yield json.dumps(value, ensure_ascii=False)


def _enclosed(first: str, parts: list[str], last: str, line: str) -> Iterable[str]:
    yield first
    if parts:
        yield f"{line} " + f",{line} ".join(parts) + line
    yield last


def digits(value: Decimal) -> str:
    """The decimal by its own digits, without exponent and idle zeros: 22.40 is 22.4, 1E+3 is 1000."""
    text = f"{value:f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text


def plan_json(report: SeasonReport) -> str:
    """The text of plan.json (schema `season-plan/1`)."""
    return json_text(plan_value(report.plan))


def frontier_json(plans: Iterable[Plan], complete: bool) -> str:
    """The text of frontier.json: whole plans, least exposed first; complete: no undominated pair is left out."""
    return json_text(
        {"schema": "season-frontier/1", "complete": complete, "frontier": [plan_value(plan) for plan in plans]}
    )


def plan_value(plan: Plan) -> dict[str, Value]:
    """The plan as plan.json holds it."""
    score, gap = plan.score, plan.gap
    return {
        "schema": "season-plan/1",
        "made_for": plan.made_for,
        "draft": plan.draft,
        "farm": {"id": plan.farm_id, "name": plan.farm_name, "country": plan.country, "timezone": plan.timezone},
        "season": {"start": plan.start, "end": plan.end},
        "status": plan.status,
        "gap": None if gap is None else {"exposed_sheep_days": gap.exposed_sheep_days, "money_minor": gap.money_minor},
        "score": {
            "exposed_sheep_days": score.exposed_sheep_days,
            "money_minor": score.money_minor,
            "currency": score.currency,
            "handlings": score.handlings,
            "gathers": score.gathers,
        },
        "cohorts": [_cohort(cohort) for cohort in plan.cohorts],
        "tasks": [_task(task) for task in plan.tasks],
        "days": [_run(run) for run in plan.days],
        "conflicts": [conflict_value(conflict) for conflict in plan.conflicts],
        "shopping": [_shopping(line) for line in plan.shopping],
        "sources": [{"id": source.id, "text": source.text} for source in plan.sources],
    }


def _cohort(cohort: CohortLine) -> Value:
    return {
        "id": cohort.id,
        "group": cohort.group,
        "kind": cohort.kind,
        "mob": cohort.mob,
        "head": cohort.head,
        "leaves": cohort.leaves,
        "sale": cohort.sale,
    }


def _task(task: Task) -> Value:
    return {
        "uid": task.uid,
        "sequence": task.sequence,
        "kind": task.kind,
        "date": task.day,
        "cohort": task.cohort,
        "group": task.group,
        "head": task.head,
        "label": task.label,
        "use": task.use,
        "targets": task.targets,
        "repeat_of": task.repeat_of,
        "dose_ml": task.dose_ml,
        "task_ml": task.task_ml,
        "heaviest_kg": None if task.heaviest_kg is None else two_decimals(task.heaviest_kg),
        "age_days": task.age_days,
        "protects": _protects(task.protects),
        "clear": _clear(task.clear),
        "money_minor": task.money_minor,
        "text": task.text,
        "because": [{"rule": because.rule, "text": because.text} for because in task.because],
        "status": task.status,
    }


def _protects(protects: Protects | None) -> Value:
    if protects is None:
        return None
    return {"from": protects.first, "to": protects.last, "fades_until": protects.fades_until}


def _clear(clear: Clear | None) -> Value:
    if clear is None:
        return None
    return {"meat": clear.meat, "milk": clear.milk, "export": clear.export, "wool": clear.wool}


def _run(run: Run) -> Value:
    return {
        "cohort": run.cohort,
        "target": run.target,
        "from": run.first,
        "to": run.last,
        "level": run.level,
        "state": run.state,
    }


def conflict_value(conflict: Conflict) -> Value:
    """A conflict as plan.json and `check --json` show it."""
    return {
        "rule": conflict.rule,
        "severity": conflict.severity,
        "cohort": conflict.cohort,
        "group": conflict.group,
        "date": conflict.day,
        "text": conflict.text,
        "where": None if conflict.where is None else conflict.where.as_json(),
        "clash": [{"rule": f.rule, "text": f.text, "where": f.where.as_json()} for f in conflict.clash],
        "choices": [_choice(choice) for choice in conflict.choices],
    }


def _choice(choice: Choice) -> Value:
    return {
        "what": choice.what,
        "text": choice.text,
        "decides": choice.decides,
        "exposed_sheep_days": choice.exposed_sheep_days,
        "money_minor": choice.money_minor,
        "handlings": choice.handlings,
    }


def _shopping(line: Shopping) -> Value:
    return {
        "label": line.label,
        "ml": line.ml,
        "in_stock_ml": line.in_stock_ml,
        "packs": [{"ml": pack.ml, "count": pack.count} for pack in line.packs],
        "money_minor": line.money_minor,
        "order_by": line.order_by,
    }
