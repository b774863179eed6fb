"""Text laid out for a terminal: paragraphs and tables no wider than asked, in plain signs."""

import textwrap
from collections.abc import Iterable, Sequence

from msgspec import Struct

WIDTH = 80
"""Columns of a terminal where nothing narrower is asked for."""
GAP = "  "
NARROWEST_WORDS = 20
"""Columns that the last column of a table needs to be read: with less, each row is told as a list."""


class Paragraph(Struct, frozen=True):
    """Text to be broken into lines, with what stands before its first line and before the others."""

    text: str
    first: str = ""
    rest: str = "  "

    def lines(self, width: int = WIDTH) -> list[str]:
        """The lines, none wider than `width` but for words that are wider themselves are broken."""
        plain = "".join(letter if letter.isprintable() else " " for letter in self.text)
        return textwrap.wrap(
            plain, width, initial_indent=self.first, subsequent_indent=self.rest, break_on_hyphens=False
        )


Line = str | Paragraph
"""One line as it stands, or a paragraph to be broken."""


def lines_text(lines: Iterable[Line], width: int = WIDTH) -> str:
    """The lines one under the other, paragraphs broken to the width; each ends with a line feed."""
    broken = [[line] if isinstance(line, str) else line.lines(width) for line in lines]
    return "".join(f"{line}\n" for part in broken for line in part)


def table_lines(head: Sequence[str], rows: Sequence[Sequence[str]], width: int = WIDTH) -> list[str]:
    """A table with columns as wide as they need be, the last one broken to the width; figures stand to the right.

    An empty `head` leaves out the heads. Where the last column would be too narrow to read, each row is told as a
    list instead: the first cell, and under it the others, each with its head.
    """
    shown = [*([head] if head else []), *rows]
    if not shown:
        return []
    widths = [max(len(row[column]) for row in shown) for column in range(len(shown[0]))]
    left = width - sum(each + len(GAP) for each in widths[:-1])
    if left < min(widths[-1], NARROWEST_WORDS):
        return [line for row in rows for line in _as_list(head, row, width)]
    widths[-1] = min(widths[-1], left)
    right = [
        all(row[column][-1:].isdigit() and row[column][:1].isdigit() for row in rows) for column in range(len(widths))
    ]
    lines = [line for row in shown for line in _row(row, widths, right)]
    if head:
        lines.insert(len(_row(head, widths, right)), GAP.join("-" * each for each in widths))
    return lines


def _row(row: Sequence[str], widths: Sequence[int], right: Sequence[bool]) -> list[str]:
    last = Paragraph(row[-1], rest="").lines(widths[-1]) or [""]
    cells = [[cell] for cell in row[:-1]] + [last]
    lines = []
    for number in range(len(last)):
        parts = [cell[number] if number < len(cell) else "" for cell in cells]
        placed = [
            part.rjust(w) if to_right else part.ljust(w) for part, w, to_right in zip(parts, widths, right, strict=True)
        ]
        lines.append(GAP.join(placed).rstrip())
    return lines


def _as_list(head: Sequence[str], row: Sequence[str], width: int) -> list[str]:
    names = head or [""] * len(row)
    first, *others = [f"{name} {cell}".strip() for name, cell in zip(names, row, strict=True)]
    return Paragraph(first).lines(width) + [
        line for other in others for line in Paragraph(other, GAP, GAP * 2).lines(width)
    ]
