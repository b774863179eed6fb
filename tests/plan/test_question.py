"""A changed farm asked from what is known already: the same question, and the same answer, as asked anew."""

from collections.abc import Iterator
from datetime import timedelta

import pytest
from msgspec.structs import replace

from scheduler.farm import ClosedDays, Farm, read_farm
from scheduler.plan.settle import answer, question_of
from scheduler.planner import Memory
from scheduler.season import Season
from scheduler.words import Faults, Where
from tests.oracle.farms import FAMILIES, random_farm


def never() -> bool:
    """A clock that does not run out."""
    return False


def changes(farm: Farm) -> Iterator[Farm]:
    """The farm with a group's heaviest 5 kg over; with one sale three days later, and not held; with wishes fewer
    and a day later; with days closed."""
    for group in farm.groups:
        if group.heaviest_kg is not None:
            heavier = replace(group, heaviest_kg=group.heaviest_kg + 5)
            yield replace(farm, groups=tuple(heavier if row is group else row for row in farm.groups))
    for sale in farm.sales[:3]:
        others = tuple(row for row in farm.sales if row is not sale)
        yield replace(farm, sales=others)
        later = replace(sale, day=sale.day + timedelta(days=3))
        leaves = farm.group(sale.group).leaves
        if leaves is None or later.day <= leaves:
            yield replace(farm, sales=tuple(later if row is sale else row for row in farm.sales))
    yield replace(farm, wishes=farm.wishes[1:])
    yield replace(farm, wishes=tuple(replace(row, day=row.day + timedelta(days=1)) for row in farm.wishes))
    settings = farm.settings
    for k in (1, 4, 9):
        days = frozenset(settings.start + timedelta(days=day) for day in range(k, 300, 11))
        closed = ClosedDays(text="closed", days=days, where=Where("farm.toml", key="work.closed[1]"))
        yield replace(farm, settings=replace(settings, closed=(*settings.closed, closed)))


@pytest.mark.parametrize("family", FAMILIES)
def test_a_question_taken_up_is_the_question_asked_anew(family: str) -> None:
    for seed in range(4):
        drawn = random_farm(seed, 2, family)
        farm = read_farm({name: text.encode() for name, text in drawn.files.items()}, drawn.today)
        assert not isinstance(farm, Faults)
        before, memory = question_of(Season(farm, drawn.today), (), {}), Memory()
        answer(before, never, memory=memory)
        for changed in changes(farm):
            season = Season(changed, drawn.today)
            anew, taken_up = question_of(season, (), {}), question_of(season, (), {}, before)
            assert taken_up.problem == anew.problem
            again, cold = answer(taken_up, never, memory=memory), answer(anew, never)
            assert again.sums == cold.sums
            assert [dose.key for dose in again.doses] == [dose.key for dose in cold.doses]
