"""A TOML file: its keys with their places."""

import re
import tomllib
from collections.abc import Mapping
from decimal import Decimal, InvalidOperation

from scheduler.tables.decode import decoded
from scheduler.tables.fields import Fields
from scheduler.tables.gathered import Gathered
from scheduler.tables.limits import limit
from scheduler.words import Fault, Where


def toml_fields(
    file: str, content: bytes, gathered: Gathered, defaults: Mapping[str, object] | None = None
) -> Fields | None:
    """The top of a TOML file, decimals exact as written, or None (its fault is gathered).

    `defaults` stand in for keys that are absent, in tables given in part too.
    """
    text = decoded(file, content, limit("toml_bytes"))
    document = text if isinstance(text, Fault) else _parsed(file, text)
    if isinstance(document, Fault):
        gathered.stop(document)
        return None
    return Fields(over(defaults or {}, document), Where(file), gathered)


def _parsed(file: str, text: str) -> dict[str, object] | Fault:
    try:
        document = tomllib.loads(text, parse_float=Decimal)
    except (ValueError, InvalidOperation) as error:
        return _unreadable(file, str(error))
    except RecursionError:
        return _too_deep(file)
    return document if _depth_is_sound(document) else _too_deep(file)


def _unreadable(file: str, message: str) -> Fault:
    line = re.search(r"at line (\d+)", message)
    return Fault(
        Where(file, row=int(line[1]) if line else None),
        found=f"found no readable TOML ({message[:200]})",
        expected="expected key = value, one a line",
        mend="look at this line, and at the one before",
    )


def _too_deep(file: str) -> Fault:
    return Fault(
        Where(file),
        found="found tables within tables, too many levels",
        expected=f"expected at most {limit('toml_depth')}",
        mend="look whether it is the right file",
    )


def _depth_is_sound(document: dict[str, object]) -> bool:
    level: list[object] = [document]
    for _ in range(limit("toml_depth")):
        level = [inner for outer in level for inner in _inside(outer)]
        if not level:
            return True
    return False


def _inside(value: object) -> list[object]:
    if isinstance(value, dict):
        return list(value.values())
    return value if isinstance(value, list) else []


def over(defaults: Mapping[str, object], given: Mapping[str, object]) -> dict[str, object]:
    """What is given, over the defaults: tables key by key, all else whole."""
    merged = dict(defaults)
    for key, value in given.items():
        default = defaults.get(key)
        both = isinstance(default, dict) and isinstance(value, dict)
        merged[key] = over(default, value) if both else value  # type: ignore[arg-type]
    return merged
