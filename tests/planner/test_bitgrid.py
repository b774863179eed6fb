"""Masks turned, reordered and joined as a grid, against one bit after the other."""

from random import Random

from scheduler.planner.bitgrid import joined, reordered, turned


def drawn(draw: Random, masks: int, count: int) -> list[int]:
    """So many masks of so many bits."""
    return [draw.getrandbits(count) if count else 0 for _ in range(masks)]


def test_turned_masks_have_each_bit_where_it_was() -> None:
    draw = Random(1)
    for _ in range(200):
        masks, count = drawn(draw, draw.randint(0, 20), width := draw.randint(1, 70)), width
        result = turned(masks, count)
        assert len(result) == count
        assert all((result[i] >> k & 1) == (mask >> i & 1) for k, mask in enumerate(masks) for i in range(count))


def test_reordered_masks_have_the_bits_asked_for() -> None:
    draw = Random(2)
    for _ in range(200):
        count = draw.randint(1, 70)
        masks, order = drawn(draw, draw.randint(0, 20), count), draw.sample(range(count), draw.randint(0, count))
        result = reordered(masks, order, count)
        assert result == tuple(sum((mask >> i & 1) << k for k, i in enumerate(order)) for mask in masks)


def test_joined_masks_are_the_union_of_the_others_at_their_ones() -> None:
    draw = Random(3)
    for _ in range(200):
        members, count = draw.randint(1, 40), draw.randint(1, 70)
        masks, others = drawn(draw, draw.randint(0, 20), members), drawn(draw, members, count)
        unions = []
        for mask in masks:
            union = 0
            for i in range(members):
                union |= others[i] if mask >> i & 1 else 0
            unions.append(union)
        assert joined(masks, others, count) == tuple(unions)
