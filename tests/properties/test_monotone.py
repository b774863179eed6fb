"""What cannot help does not help, and what is no matter of the plan changes nothing in it.

Random farms without wishes and without a record: with those, less room can mean that a costly wish is left out.
"""

from collections.abc import Iterator

import pytest

from scheduler.plan import Plan
from tests.oracle.farms import random_farm
from tests.properties.planning import Texts, as_read, plan_of, score_of
from tests.properties.variations import (
    label_files,
    renamed,
    reordered,
    with_closed,
    with_longer_withdrawal,
    without,
    without_order,
)

FARMS = [
    *(("plain", seed) for seed in (5, 14)),
    *(("work", seed) for seed in (3, 9)),
    *(("sales", seed) for seed in (2, 12)),
    *(("food", seed) for seed in (7, 9)),
    *(("mobs", seed) for seed in (2, 5)),
    *(("housing", seed) for seed in (3, 6)),
    *(("fleece", seed) for seed in (2, 9)),
    *(("lambs", seed) for seed in (2, 9)),
    *(("clash", seed) for seed in (6, 10)),
]
each_farm = pytest.mark.parametrize(("family", "seed"), FARMS)


def closed_more(files: Texts, plan: Plan) -> Iterator[Texts]:
    """The farm with one more closed day, each of three days with work in turn."""
    days = sorted({task.day for task in plan.tasks if task.kind == "dose"})
    yield from (with_closed(files, day) for day in days[:3])


def labels_fewer(files: Texts, plan: Plan) -> Iterator[Texts]:
    """The farm with one label fewer, each in turn."""
    yield from (without(files, name) for name in label_files(files))


def waiting_longer(files: Texts, plan: Plan) -> Iterator[Texts]:
    """The farm with longer withdrawals."""
    yield from (with_longer_withdrawal(files, more) for more in (2, 9))


HARDER = (closed_more, labels_fewer, waiting_longer)


@each_farm
def test_less_room_never_makes_a_better_plan(family: str, seed: int) -> None:
    drawn = random_farm(seed, 2, family)
    least = plan_of(drawn.files, drawn.today)
    for harder in HARDER:
        for files in harder(drawn.files, least):
            assert score_of(plan_of(files, drawn.today)) >= score_of(least), harder.__doc__


@pytest.mark.parametrize(("number", "family", "seed"), [(0, "plain", 7), (1, "plain", 3), (2, "sales", 3)])
def test_each_way_to_make_it_harder_is_felt_somewhere(number: int, family: str, seed: int) -> None:
    drawn = random_farm(seed, 2, family)
    least = plan_of(drawn.files, drawn.today)
    harder = HARDER[number](drawn.files, least)
    assert any(score_of(plan_of(files, drawn.today)) > score_of(least) for files in harder)


@each_farm
def test_the_order_of_rows_and_files_changes_only_where_things_stand(family: str, seed: int) -> None:
    drawn = random_farm(seed, 2, family)
    plans = [as_read(plan_of(files, drawn.today)) for files in (drawn.files, reordered(drawn.files, seed))]
    assert without_order(plans[0]) == without_order(plans[1])


@each_farm
def test_other_names_for_groups_and_labels_change_no_score(family: str, seed: int) -> None:
    drawn = random_farm(seed, 2, family)
    other = renamed(drawn.files, lambda name: f"Z {name[::-1].strip()}")
    assert plan_of(other, drawn.today).score == plan_of(drawn.files, drawn.today).score
