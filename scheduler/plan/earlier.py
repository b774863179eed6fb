"""The plan made before: plan.json read back. Task numbers, missed doses and what changed rest on it."""

import json
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any, TypeVar, get_args

from msgspec import Struct

from scheduler.plan.model import Because, Clear, Protects, Task, TaskKind, TaskStatus
from scheduler.words import TARGETS, Fault, Where

SCHEMA = "season-plan/1"
PLACE = Where("plan.json")
MEND = "move it away and plan again: tasks then get new numbers"
DIGITS_MOST = 30
T = TypeVar("T")
Row = dict[str, Any]


class EarlierPlan(Struct, frozen=True, kw_only=True):
    """What later plans need of an earlier one: whose it is, for which season and day, and its tasks."""

    farm_id: str
    start: date
    end: date
    made_for: date
    tasks: tuple[Task, ...]


class _Broken(Exception):
    """A value of the file is not what we write there."""


def read_earlier(data: bytes) -> EarlierPlan | Fault:
    """The plan in the bytes of a plan.json, or the fault of one that is broken or not ours."""
    try:
        value = json.loads(data.decode("utf-8-sig"), parse_float=Decimal, parse_constant=_no_number)
    except (ValueError, RecursionError):
        return _fault("found a file that cannot be read as JSON")
    schema = value.get("schema") if isinstance(value, dict) else None
    if schema != SCHEMA:
        return _fault("found a file of another kind")
    try:
        return _plan(value)
    except (_Broken, KeyError, ValueError) as error:
        return _fault(f"found a plan in which {_said(error)}")


def of_another_farm(earlier: EarlierPlan, farm_id: str) -> Fault | None:
    """A fault where the plan was made for a farm of another id: its tasks are not to be called off by this one."""
    if earlier.farm_id == farm_id:
        return None
    mend = f'plan into another folder, move it away, or write id = "{earlier.farm_id}" in farm.toml'
    return Fault(PLACE, f'found the plan of farm "{earlier.farm_id}"', f'expected that of "{farm_id}"', mend)


def planned_firsts(earlier: EarlierPlan) -> frozenset[tuple[str, str, str, date]]:
    """(cohort, label, use, day) and (group, label, use, day) of the first doses that are planned or missed."""
    return frozenset(
        (who, task.label or "", task.use or "", task.day)
        for task in earlier.tasks
        if task.kind == "dose" and task.repeat_of is None and task.status in ("planned", "missed")
        for who in (task.cohort, task.group)
        if who is not None
    )


def _said(error: Exception) -> str:
    return f"{error.args[0]} is missing" if isinstance(error, KeyError) else str(error)


def _fault(found: str) -> Fault:
    return Fault(PLACE, found, f"expected a plan of schema {SCHEMA}, as `season plan` writes it", MEND)


def _no_number(text: str) -> Decimal:
    raise ValueError(text)


def _plan(value: Row) -> EarlierPlan:
    season, farm = _object(value, "season"), _object(value, "farm")
    tasks = value["tasks"]
    if not isinstance(tasks, list):
        raise _Broken("tasks is no list")
    read = tuple(_task(row) for row in tasks)
    if len({task.uid for task in read}) < len(read):
        raise _Broken("two tasks have one uid")
    return EarlierPlan(
        farm_id=_text(farm, "id"),
        start=_day(season, "start"),
        end=_day(season, "end"),
        made_for=_day(value, "made_for"),
        tasks=read,
    )


def _task(row: object) -> Task:
    if not isinstance(row, dict):
        raise _Broken("a task is no object")
    task = Task(
        uid=_text(row, "uid"),
        sequence=_whole(row, "sequence"),
        kind=_word(row, "kind", get_args(TaskKind)),
        day=_day(row, "date"),
        cohort=_perhaps(row, "cohort", _text),
        group=_perhaps(row, "group", _text),
        head=_perhaps(row, "head", _whole),
        label=_perhaps(row, "label", _text),
        use=_perhaps(row, "use", _text),
        targets=_perhaps(row, "targets", lambda at, key: tuple(_one_of(t, key, TARGETS) for t in _list(at, key))),
        repeat_of=_perhaps(row, "repeat_of", _text),
        dose_ml=_perhaps(row, "dose_ml", _number),
        task_ml=_perhaps(row, "task_ml", _number),
        heaviest_kg=_perhaps(row, "heaviest_kg", _number),
        age_days=_perhaps(row, "age_days", _whole),
        protects=_perhaps(row, "protects", _protects),
        clear=_perhaps(row, "clear", _clear),
        money_minor=_perhaps(row, "money_minor", _whole),
        text=_text(row, "text"),
        because=tuple(Because(_text(one, "rule"), _text(one, "text")) for one in _list(row, "because")),
        status=_word(row, "status", get_args(TaskStatus)),
    )
    if task.kind == "dose" and None in (task.cohort, task.group, task.label, task.use):
        raise _Broken("a dose does not say to whom or of what")
    return task


def _protects(row: Row, key: str) -> Protects:
    at = _object(row, key)
    return Protects(_perhaps(at, "from", _day), _perhaps(at, "to", _day), _perhaps(at, "fades_until", _day))


def _clear(row: Row, key: str) -> Clear:
    at = _object(row, key)
    return Clear(*(_perhaps(at, name, _day) for name in ("meat", "milk", "export", "wool")))


def _perhaps(row: Row, key: str, read: Callable[[Row, str], T]) -> T | None:
    return None if row[key] is None else read(row, key)


def _object(row: Row, key: str) -> Row:
    value = row[key]
    if not isinstance(value, dict):
        raise _Broken(f"{key} is no object")
    return value


def _list(row: Any, key: str) -> list[Any]:
    value = row[key]
    if not isinstance(value, list):
        raise _Broken(f"{key} is no list")
    return value


def _text(row: Any, key: str) -> str:
    value = row[key] if isinstance(row, dict) else None
    if not isinstance(value, str):
        raise _Broken(f"{key} is no text")
    try:
        value.encode("utf-8")
    except UnicodeEncodeError:
        raise _Broken(f"{key} is no text") from None
    return value


def _whole(row: Row, key: str) -> int:
    value = row[key]
    if not isinstance(value, int) or isinstance(value, bool):
        raise _Broken(f"{key} is no whole number")
    return value


def _number(row: Row, key: str) -> Decimal:
    value = row[key]
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        raise _Broken(f"{key} is no number")
    number = Decimal(value)
    if abs(number.adjusted()) > DIGITS_MOST or number < 0:
        raise _Broken(f"{key} is out of range")
    return number


def _day(row: Row, key: str) -> date:
    text = _text(row, key)
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise _Broken(f"{key} is no day") from None
    if day.isoformat() != text:
        raise _Broken(f"{key} is no day")
    return day


def _word(row: Row, key: str, words: tuple[Any, ...]) -> Any:
    return _one_of(_text(row, key), key, words)


def _one_of(value: object, key: str, words: tuple[Any, ...]) -> Any:
    if value not in words:
        raise _Broken(f"{key} is no word that we know")
    return value
