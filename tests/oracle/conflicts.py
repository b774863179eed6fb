"""Pairwise conflicts between courses of one cohort, gathered into groups of which at most one may be chosen."""

from __future__ import annotations

from collections.abc import Iterator

from tests.oracle.judge import judge
from tests.oracle.rules import clash, near
from tests.oracle.world import Course, World

Key = tuple[str, object, object, str]


def _clash_or_near(world: World, one: Course, other: Course) -> bool:
    if one.origin != "own" and other.origin != "own":
        return bool(judge(world, [*one.doses, *other.doses]))
    return near(world, one, other) is not None or clash(world, one, other)


def _cliques(masks: list[int]) -> Iterator[list[int]]:
    """Groups of mutually conflicting nodes that cover every edge of the graph."""
    left = list(masks)
    for start in range(len(masks)):
        while left[start]:
            group, common, fresh = [start], masks[start], left[start]
            while common:
                pool = common & fresh or common
                node = (pool & -pool).bit_length() - 1
                group.append(node)
                common &= masks[node]
            for one in group:
                for other in group:
                    left[one] &= ~(1 << other)
            yield sorted(group)


def at_most_one(world: World, courses: list[Course]) -> list[list[int]]:
    """Groups of course numbers, at most one of each, that say all pairwise conflicts of a cohort."""
    keys: dict[Key, list[int]] = {}
    for number, course in enumerate(courses):
        origin = course.origin if course.origin == "own" else f"{course.origin} {number}"
        keys.setdefault((course.label, course.first, course.repeat, origin), []).append(number)
    heads = [courses[numbers[0]] for numbers in keys.values()]
    masks = [0] * len(heads)
    for one in range(len(heads)):
        for other in range(one):
            if _clash_or_near(world, heads[one], heads[other]):
                masks[one] |= 1 << other
                masks[other] |= 1 << one
    members = list(keys.values())
    groups = [[number for node in clique for number in members[node]] for clique in _cliques(masks)]
    seen = {number for group in groups for number in group}
    return groups + [numbers for numbers in members if len(numbers) > 1 and not seen & set(numbers)]
