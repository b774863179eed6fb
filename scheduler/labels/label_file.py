"""A label file with other figures: comments, order and all that was not asked stay as they were written."""

import re
import tomllib
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from msgspec import Struct

from scheduler.labels.leaflet import Answers
from scheduler.labels.questions import Path, Value, said

ABSENT_IS_ZERO = frozenset(
    ("above_kg", "after", "before", "handling_days", "not_before_lambing_days", "repeat_interval", "works_after_days",
     "youngest_days")
)  # fmt: skip
"""Keys of a label file that mean the same when they are left out as when they are 0."""
_AMOUNTS = ("ml", "ml_per_kg", "ml_per_100cm2")
_ONE_LINE = ("dry_hours", "not_with")
"""Tables that are written within one line where they are new."""


class Change(Struct, frozen=True):
    """A key of the label file that gets another value; 'not stated' where it is left out."""

    key: str
    before: str
    after: str

    def __str__(self) -> str:
        return f"{self.key}: the file said {self.before}, the leaflet says {self.after}"


def filed(content: str) -> Mapping[str, Any]:
    """What a label file says, decimals as written. The file must be readable TOML."""
    return tomllib.loads(content, parse_float=Decimal)


def filed_at(label: Mapping[str, Any], path: Path) -> Value:
    """What a label says at the place of a question; None where it says nothing."""
    here: Any = label
    *outer, last = path
    for key in outer:
        here = _within(here, key)
    if last == "count":
        return len(here or ())
    if last == "amount":
        return next(((key, Decimal(str(here[key]))) for key in _AMOUNTS if here and key in here), None)
    found = _within(here, {"least": 0, "most": 1}.get(str(last), last))
    return tuple(found) if isinstance(found, list) else found


def _within(here: Any, key: str | int) -> Any:
    if isinstance(here, list) and isinstance(key, int):
        return here[key] if key < len(here) else None
    return here.get(key) if isinstance(here, dict) else None


def filled(content: str, answers: Answers, checked: date) -> tuple[str, tuple[Change, ...]]:
    """The label file with these answers and the day on which it was compared, and what changed besides that day.

    A figure that is the same is left as it is written. ValueError: the file is laid out so that it cannot be changed.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        document = tomlkit.parse(content)
        changes = _merge(document, filed(content), answers, "")
        document["checked"] = checked
        written = tomlkit.dumps(document)
        if not content:
            written = re.sub(r"(?<!\n)\n\[", "\n\n[", written)
        again = _merge(tomlkit.parse(written), filed(written), answers, "")
    except (TOMLKitError, KeyError, TypeError, AttributeError, IndexError) as error:
        raise ValueError(str(error)) from error
    if again or filed(written).get("checked") != checked:
        raise ValueError("some figures did not reach their place")
    return written, tuple(changes)


def _merge(table: Any, old: Mapping[str, Any], wanted: Mapping[str, Any], at: str) -> list[Change]:
    """Puts what is wanted into a table of the document, and tells what changed."""
    import tomlkit

    changes: list[Change] = []
    for key, value in wanted.items():
        before, place = old.get(key), f"{at}.{key}" if at else key
        if isinstance(value, dict):
            if before is None and _is_empty(value):
                continue
            if before is None:
                table[key] = tomlkit.inline_table() if _in_one_line(table, key) else tomlkit.table()
            changes += _merge(table[key], before or {}, value, place)
        elif isinstance(value, list) and all(isinstance(one, dict) for one in value):
            changes += _merge_all(table, key, before or [], value, place)
        elif not _is_same(key, before, value):
            changes.append(Change(place, _said(before), _said(value)))
            _put(table, key, value)
    return changes


def _merge_all(table: Any, key: str, old: Sequence[Any], wanted: Sequence[Any], place: str) -> list[Change]:
    """The same for an array of tables, which becomes as long as it should be."""
    import tomlkit

    if not old and not wanted:
        return []
    changes = [] if len(old) == len(wanted) else [Change(place, str(len(old)), str(len(wanted)))]
    if key not in table:
        table[key] = tomlkit.array() if _in_one_line(table, key) else tomlkit.aot()
    one_line = isinstance(table[key], tomlkit.items.Array)
    for _ in range(len(old), len(wanted)):
        table[key].append(tomlkit.inline_table() if one_line else tomlkit.table())
    for index, value in enumerate(wanted):
        before = old[index] if index < len(old) else {}
        changes += _merge(table[key][index], before, value, f"{place}[{index + 1}]")
    for _ in range(len(wanted), len(old)):
        del table[key][len(wanted)]
    if not wanted:
        del table[key]
    return changes


def _in_one_line(table: Any, key: str) -> bool:
    """Whether a table of that key, new in this one, is written within one line."""
    import tomlkit

    return key in _ONE_LINE or isinstance(table, tomlkit.items.InlineTable)


def _put(table: Any, key: str, value: Any) -> None:
    import tomlkit

    if value is None:
        del table[key]
    elif isinstance(value, Decimal):
        table[key] = tomlkit.value(str(value))
    else:
        table[key] = list(value) if isinstance(value, tuple) else value


def _is_empty(wanted: Mapping[str, Any]) -> bool:
    return all(value is None or value == [] for value in wanted.values())


def _is_same(key: str, before: Any, value: Any) -> bool:
    if isinstance(value, tuple):
        value = list(value)
    if key in ABSENT_IS_ZERO:
        return bool((before or 0) == (value or 0))
    if value is None:
        return before is None or before is False or before in ("", [])
    return bool(before == value)


def _said(value: Any) -> str:
    return said(tuple(value) if isinstance(value, list) else value)
