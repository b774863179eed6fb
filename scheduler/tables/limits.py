"""How much of a farm folder is read: the limits of limits.toml."""

import tomllib
from functools import cache

from scheduler.words import package_text


@cache
def _limits() -> dict[str, int]:
    entries = tomllib.loads(package_text("scheduler.tables", "limits.toml"))
    return {name: int(entry["value"]) for name, entry in entries.items()}


def limit(name: str) -> int:
    """The limit of that name in limits.toml, in the unit that stands there; KeyError where there is none."""
    return _limits()[name]
