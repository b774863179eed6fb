"""Words in rows: none touches another on the narrowest page or a wider one, and each keeps its room."""

from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.report.packing import NARROWEST_PX, beside, rows_of, shortened, text_px


def test_a_long_bar_that_leaves_no_room_carries_its_words() -> None:
    assert beside(1, 99, 10, "clear 12 Dec")[1] == "over"
    assert beside(90, 99, 10, "clear 12 Dec")[1] == "left"
    assert beside(1, 20, 10, "clear 12 Dec")[1] == "right"


@settings(deadline=None)
@given(st.text(min_size=1), st.integers(20, 200))
def test_a_shortened_text_keeps_its_room(text: str, most: int) -> None:
    short = shortened(text, most)
    assert text_px(short) <= max(most, text_px("…"))
    assert short == text or (short.endswith("…") and text.startswith(short[:-1].rstrip()))


@settings(deadline=None)
@given(st.lists(st.tuples(st.integers(0, 100), st.integers(0, 40), st.text("ab ", max_size=14)), max_size=25))
def test_items_of_a_row_never_touch_and_gaps_only_grow(places: list[tuple[int, int, str]]) -> None:
    items = [beside(first, min(100, first + more), 10, text)[0] for first, more, text in sorted(places)]
    rows = rows_of(items, NARROWEST_PX)
    for width in (NARROWEST_PX, 900):
        for row in set(rows):
            own = [item for item, of in zip(items, rows, strict=True) if of == row]
            for before, after in pairwise(own):
                assert before.last / 100 * width + before.right < after.first / 100 * width - after.left
