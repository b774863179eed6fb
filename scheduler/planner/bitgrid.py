"""Many masks at once, as a grid of bits: turned over, or with its columns in another order."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


def turned(masks: Sequence[int], count: int) -> tuple[int, ...]:
    """`count` masks: bit k of the i-th is bit i of the k-th given."""
    return _masks(_grid(masks, count).T) if masks else (0,) * count


def reordered(masks: Sequence[int], order: Sequence[int], count: int) -> tuple[int, ...]:
    """As many masks: bit k is bit order[k] of the one given, which has `count` bits; bits not in the order are gone."""
    return _masks(_grid(masks, count)[:, list(order)]) if masks and order else (0,) * len(masks)


def joined(masks: Sequence[int], others: Sequence[int], count: int) -> tuple[int, ...]:
    """For each mask the union of the `others` at its ones; these have `count` bits."""
    if not masks:
        return ()
    # Counts in float32 are exact here, and multiplied by the fast routine that whole numbers lack.
    found = _grid(masks, len(others)).astype("float32") @ _grid(others, count).astype("float32")
    return _masks((found > 0).astype("uint8"))


def ones_of(masks: Sequence[int]) -> tuple["NDArray[np.intp]", "NDArray[np.intp]"]:
    """How many ones each mask has, and the places of all of them: those of the first mask ascending, then the next."""
    import numpy as np

    count = max((mask.bit_length() for mask in masks), default=0)
    if not count:
        return np.zeros(len(masks), dtype=np.intp), np.zeros(0, dtype=np.intp)
    rows, places = _grid(masks, count).nonzero()
    return np.bincount(rows, minlength=len(masks)), places


def _grid(masks: Sequence[int], count: int) -> "NDArray[np.uint8]":
    import numpy as np

    size = (count + 7) // 8
    raw = np.frombuffer(b"".join(mask.to_bytes(size, "little") for mask in masks), dtype=np.uint8)
    return np.unpackbits(raw.reshape(len(masks), size), axis=1, count=count, bitorder="little")


def _masks(grid: "NDArray[np.uint8]") -> tuple[int, ...]:
    import numpy as np

    packed = np.packbits(grid, axis=1, bitorder="little")
    return tuple(int.from_bytes(row.tobytes(), "little") for row in packed)
