"""A fault: something the keeper wrote that cannot be read or contradicts itself."""

from collections.abc import Iterable

from msgspec import Struct

from scheduler.words.where import Where


class Fault(Struct, frozen=True):
    """What was found at a place, what was expected there, and how to mend it."""

    where: Where
    found: str
    expected: str
    mend: str

    def __str__(self) -> str:
        end = "" if self.mend.endswith("?") else "."
        return f"{self.where}: {self.found}; {self.expected}; {self.mend}{end}"

    def as_json(self) -> dict[str, object]:
        """The fault as `--json` shows it."""
        return {"where": self.where.as_json(), "found": self.found, "expected": self.expected, "mend": self.mend}


class Faults(Struct, frozen=True):
    """All faults of one reading, sorted by place."""

    items: tuple[Fault, ...]

    @staticmethod
    def of(faults: Iterable[Fault]) -> "Faults":
        """The faults in order of file, row and column, each once."""
        return Faults(tuple(sorted(dict.fromkeys(faults), key=lambda fault: (fault.where.sort_key(), fault.found))))
