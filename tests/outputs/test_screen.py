"""Tables and paragraphs keep within the width, and lose no word to it."""

from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.outputs import Paragraph, lines_text, table_lines

HEAD = ("kg", "ml", "what it is")
ROWS = (("0 to 10", "5", "light"), ("10 to 100", "12.5", "for all the others of the flock, rams too"))
words = st.text("abcdef", min_size=1, max_size=9)


def test_columns_are_as_wide_as_they_need_be_and_figures_stand_to_the_right() -> None:
    assert table_lines(HEAD, ROWS, 80) == [
        "       kg    ml  what it is",
        "---------  ----  -----------------------------------------",
        "  0 to 10     5  light",
        "10 to 100  12.5  for all the others of the flock, rams too",
    ]


def test_the_last_column_is_broken_to_the_width() -> None:
    assert table_lines((), ROWS, 40) == [
        "  0 to 10     5  light",
        "10 to 100  12.5  for all the others of",
        "                 the flock, rams too",
    ]


def test_where_the_last_column_cannot_be_read_each_row_becomes_a_list() -> None:
    assert table_lines(HEAD, ROWS, 30) == [
        "kg 0 to 10",
        "  ml 5",
        "  what it is light",
        "kg 10 to 100",
        "  ml 12.5",
        "  what it is for all the",
        "    others of the flock, rams",
        "    too",
    ]


def test_a_table_without_rows_and_head_is_nothing() -> None:
    assert table_lines((), ()) == []


@settings(deadline=None)
@given(st.lists(st.tuples(words, words, st.lists(words, max_size=20).map(" ".join)), min_size=1), st.integers(40, 80))
def test_no_line_of_a_table_is_wider_than_asked_and_no_word_is_lost(
    rows: list[tuple[str, str, str]], width: int
) -> None:
    lines = table_lines(("a", "b", "c"), rows, width)
    assert max(map(len, lines)) <= width
    told = " ".join(lines).split()
    assert all(word in told for row in rows for cell in row for word in cell.split())


def test_a_paragraph_is_broken_with_its_own_beginnings_and_a_line_is_left_alone() -> None:
    long = "a-path/that-is/longer-than/the-width/of-the-screen"
    told = lines_text([Paragraph("one two three\tfour", "- ", "  "), long], 12)
    assert told == f"- one two\n  three four\n{long}\n"
