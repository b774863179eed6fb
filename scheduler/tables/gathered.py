"""Gathers faults while files are read, without drowning the reader in repeats of one."""

import re
from collections import Counter

from scheduler.tables.limits import limit
from scheduler.words import Fault, Faults, Where

_Table = tuple[str, str]
_Column = tuple[str, str, str]


class Gathered:
    """All faults met so far. Of one column of one file only the first are kept, the rest counted."""

    def __init__(self) -> None:
        self._kept: list[Fault] = []
        self._count: Counter[_Column] = Counter()
        self._first_left: dict[_Column, Where] = {}
        self._stopped: set[_Table] = set()

    def add(self, fault: Fault) -> None:
        """Take in one more fault."""
        column = _column(fault.where)
        self._count[column] += 1
        if self._count[column] <= limit("faults_a_column"):
            self._kept.append(fault)
        else:
            self._first_left.setdefault(column, fault.where)

    def stop(self, fault: Fault) -> None:
        """Take in a fault because of which the rest of its file, or sheet, is not read."""
        self._stopped.add(_table(fault.where))
        self.add(fault)

    def is_stopped(self, table: Where) -> bool:
        """Whether a part of the file or sheet was not read, so that nothing can be said to be missing from it."""
        return _table(table) in self._stopped

    def touches(self, table: Where) -> bool:
        """Whether any fault stands in the file or sheet."""
        return any(column[:2] == _table(table) for column in self._count)

    def __bool__(self) -> bool:
        return bool(self._kept)

    def faults(self) -> Faults:
        """The faults in order of place; where a column has too many, its last line says how many more there are."""
        return Faults.of([*self._kept, *(self._rest(column, where) for column, where in self._first_left.items())])

    def _rest(self, column: _Column, where: Where) -> Fault:
        more = self._count[column] - limit("faults_a_column")
        return Fault(
            where,
            found=f"{more} more in this column from here on",
            expected="only the first are listed",
            mend="mend these and look again",
        )


def _table(where: Where) -> _Table:
    return where.file, where.sheet or ""


def _column(where: Where) -> _Column:
    """The column that repeats are counted by; entries of a list (`closed[7]`) count as one."""
    return (*_table(where), where.column or re.sub(r"\[\d+\]", "[]", where.key or ""))
