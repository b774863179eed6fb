"""What lies between two farms, where it is so little that most of what was planned still stands."""

from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from scheduler.farm import Farm, Group
from scheduler.season import Season


class Change(Struct, frozen=True):
    """groups: those whose row or weighings differ. closed: days that are closed now and were not.

    Sales and wishes may differ too: they are seen from the cohorts, and bind no other cohort's doses.
    """

    groups: frozenset[str]
    closed: frozenset[date]


def change_between(old: Season, new: Season) -> Change | None:
    """The change, where no more than weights, sales, wishes and further closed days differ; else None."""
    if old.made_for != new.made_for or old.closed - new.closed or _rest(old.farm) != _rest(new.farm):
        return None
    before, now = _by_group(old.farm), _by_group(new.farm)
    changed = {name for name in before.keys() | now.keys() if before.get(name) != now.get(name)}
    return Change(frozenset(changed), new.closed - old.closed)


def _rest(farm: Farm) -> Farm:
    """The farm without what may differ."""
    return replace(
        farm,
        settings=replace(farm.settings, closed=()),
        groups=tuple(_unweighed(group) for group in farm.groups),
        sales=(),
        weighings=(),
        wishes=(),
        left_out=(),
    )


def _unweighed(group: Group) -> Group:
    return replace(group, heaviest_kg=None, lightest_kg=None, weighed_on=None, grown_kg=None)


def _by_group(farm: Farm) -> dict[str, list[object]]:
    """By group its own row and weighings."""
    found: dict[str, list[object]] = {group.name: [group] for group in farm.groups}
    for row in farm.weighings:
        found[row.group].append(row)
    return found
