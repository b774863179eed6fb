"""The names of cohorts that a row may name: parts of a group by their way out, and animals found struck."""

from collections import defaultdict
from collections.abc import Iterable
from itertools import islice

from scheduler.farm.model import Finding, Group, Sale
from scheduler.farm.names import Doubts
from scheduler.tables import Cell, limit, line, nearest
from scheduler.words import TARGETS, Fault, Target

_WHOLE_MOB: tuple[Target, ...] = ("lice", "scab")


class CohortNames:
    """Names of cohorts: GROUP/SALE, GROUP/stay, GROUP/found-ROW and GROUP/found-ROW/SALE.

    Of groups in `doubts` not all cohorts are known, so none is called unknown.
    """

    def __init__(
        self, groups: Iterable[Group], sales: Iterable[Sale], findings: Iterable[Finding], doubts: Doubts
    ) -> None:
        self._doubts = doubts
        head = {group.name: group.head for group in groups}
        stay = dict(head)
        self._ways_out: dict[str, dict[str, None]] = defaultdict(dict)
        self._found: dict[str, dict[str, None]] = defaultdict(dict)
        for sale in sales:
            stay[sale.group] = stay.get(sale.group, 0) - sale.head
            self._ways_out[sale.group][sale.name] = None
        for group, left in stay.items():
            if left > 0:
                self._ways_out[group]["stay"] = None
        for finding in findings:
            apart = finding.what in TARGETS and finding.what not in _WHOLE_MOB
            if apart and (finding.head or 1) < head.get(finding.group, 0):
                self._found[finding.group][f"found-{finding.where.row}"] = None

    def fault(self, cell: Cell, group: str) -> Fault | None:
        """The fault of a cell that names no cohort of the group, or None."""
        name = line(cell)
        if isinstance(name, Fault):
            return name
        of_group, _, part = name.partition("/")
        if self._doubts.about(group):
            return None
        if of_group == group and self._is_part(group, part):
            return None
        if part and of_group != group and self._is_part(of_group, part):
            return cell.fault(f'the row is of "{group}"', "name a cohort of that group, or correct the group")
        near = nearest(name, islice(self._all(group), limit("names_compared")))
        mend = f'did you mean "{near}"?' if near else "write GROUP/SALE, GROUP/stay or GROUP/found-ROW"
        return cell.fault(f'no such cohort of "{group}"', mend)

    def _is_part(self, group: str, part: str) -> bool:
        found, _, sale = part.partition("/")
        if found in self._found[group]:
            return not sale or (sale != "stay" and sale in self._ways_out[group])
        return part in self._ways_out[group]

    def _all(self, group: str) -> Iterable[str]:
        return (f"{group}/{part}" for part in [*self._ways_out[group], *self._found[group]])
