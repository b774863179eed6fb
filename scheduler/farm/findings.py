"""findings.csv."""

from collections.abc import Iterable, Iterator
from typing import Literal

from scheduler.farm.model import Finding
from scheduler.farm.names import Doubts, Names, before_birth, ordered
from scheduler.tables import Columns, Fields, day, number, text, whole, word
from scheduler.words import TARGETS, Target

FINDINGS = Columns(
    file="findings.csv", required=("date", "group", "what"), optional=("head", "area_cm2", "cleared", "note")
)

_FOUND: tuple[Target | Literal["dags"], ...] = (*TARGETS, "dags")


def read_findings(rows: Iterable[Fields], names: Names, doubts: Doubts) -> Iterator[Finding]:
    """The findings without a fault; `doubts` take in the groups of the others."""
    for row in rows:
        finding = Finding(
            day=row.need("date", day),
            group=names.group(row),
            what=row.need("what", word(_FOUND)),
            head=row.get("head", whole("head"), None),
            area_cm2=row.get("area_cm2", number("area_cm2"), None),
            cleared=row.get("cleared", day, None),
            note=row.get("note", text, ""),
            where=row.at,
        )
        ordered(row, "date", finding.day, "cleared", finding.cleared)
        group = names.group_of.get(finding.group)
        before_birth(row, "date", finding.day, group)
        if group is not None and finding.head is not None and finding.head > group.head:
            expected = f'"{group.name}" has {group.head} ({group.where})'
            row.fault("head", f"found {finding.head}", expected, "write no more than that")
        doubts.note(row)
        if not row.failed:
            yield finding
