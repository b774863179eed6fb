"""The small farm of a case: nested tables, as the case files state them, written out as a farm folder and read."""

import csv
import io
import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from scheduler.farm import TABLES, Farm, read_farm
from scheduler.words import Faults

Content = Mapping[str, Any]
NAMED_BY = {"groups": "group", "sales": "sale"}
"""Tables with a column that takes the name under which a case states a row."""


def merged(base: Content, changes: Content) -> dict[str, Any]:
    """The base with the changes: tables go into tables, all else takes the place of what was there."""
    both = dict(base)
    for key, value in changes.items():
        old = both.get(key)
        both[key] = merged(old, value) if isinstance(old, Mapping) and isinstance(value, Mapping) else value
    return both


def farm_of(content: Content, today: date) -> Farm:
    """The farm of a case. ValueError where it is not lawful: a mistake in our own data."""
    farm = read_farm({name: text.encode() for name, text in _folder(content).items()}, today)
    if isinstance(farm, Faults):
        raise ValueError("; ".join(str(fault) for fault in farm.items))
    return farm


def _folder(content: Content) -> dict[str, str]:
    folder = {"farm.toml": _toml_file(content["farm"])}
    for name, label in content.get("labels", {}).items():
        uses = [{"id": key, **use} for key, use in label["uses"].items()]
        folder[f"labels/{name}.toml"] = _toml_file({key: label[key] for key in label if key != "uses"} | {"use": uses})
    for table in TABLES:
        stem = table.file.removesuffix(".csv")
        rows = _rows(stem, content.get(stem, ()))
        if rows:
            folder[table.file] = _csv(rows)
    return folder


def _rows(table: str, stated: Content | Sequence[Content]) -> list[Content]:
    if not isinstance(stated, Mapping):
        return list(stated)
    column = NAMED_BY.get(table)
    return [{column: name, **row} if column else row for name, row in stated.items()]


def _csv(rows: Iterable[Content]) -> str:
    rows = list(rows)
    text = io.StringIO()
    writer = csv.DictWriter(text, list(dict.fromkeys(key for row in rows for key in row)))
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def _toml_file(table: Content) -> str:
    return "".join(f"{key} = {_toml(value)}\n" for key, value in table.items())


def _toml(value: object) -> str:
    if isinstance(value, bool | str):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key} = {_toml(part)}" for key, part in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_toml, value)) + "]"
    return str(value)
