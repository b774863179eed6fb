"""What numbers in the keeper's files may lie between: the ranges of ranges.toml."""

import tomllib
from decimal import Decimal
from functools import cache
from typing import Any

from msgspec import Struct

from scheduler.words import package_text


class Range(Struct, frozen=True, kw_only=True):
    """Numbers from `least` (itself only where not `above`) to `most`; `what` names them with their unit."""

    what: str
    least: Decimal
    most: Decimal
    example: Decimal
    above: bool = False
    share: bool = False

    def __contains__(self, value: Decimal | int) -> bool:
        return (self.least < value if self.above else self.least <= value) and value <= self.most

    @property
    def expected(self) -> str:
        """The range in words, as a fault says it."""
        if self.above:
            return f"expected {self.what} over {self.least} and at most {self.most}"
        return f"expected {self.what} from {self.least} to {self.most}"


@cache
def _ranges() -> dict[str, Range]:
    entries = tomllib.loads(package_text("scheduler.tables", "ranges.toml"), parse_float=Decimal)
    return {name: _range(entry) for name, entry in entries.items()}


def _range(entry: dict[str, Any]) -> Range:
    return Range(
        what=entry["what"],
        least=Decimal(entry["least"]),
        most=Decimal(entry["most"]),
        example=Decimal(entry["example"]),
        above=entry.get("above", False),
        share=entry.get("share", False),
    )


def range_of(name: str) -> Range:
    """The range of that name in ranges.toml; KeyError where there is none."""
    return _ranges()[name]
