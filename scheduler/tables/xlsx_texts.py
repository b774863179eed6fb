"""The texts and formats that the sheets of a workbook share (ECMA-376, part 1, 18.4 and 18.8)."""

import re
from collections.abc import Sequence
from html import escape

from scheduler.tables.xlsx_xml import Attributes, BrokenXml, walk

_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_MOST_FORMATS = 65_490  # formats of cells that spreadsheet programs allow, from memory


def plain_text(text: str) -> str:
    """The text with what XML cannot hold put back: _x000D_ is a carriage return."""
    return _ESCAPED.sub(lambda match: chr(int(match[1], 16)), text) if "_x" in text else text


def shared_texts(part: bytes) -> tuple[str, ...]:
    """The shared texts in their order, without marks of how they look or sound. Raises BrokenXml."""
    texts: list[str] = []
    pieces: list[str] = []
    takes_text, aside = False, 0

    def start(name: str, _: Attributes) -> None:
        nonlocal takes_text, aside
        aside += name == "rPh"
        takes_text = name == "t" and not aside
        if name == "si":
            pieces.clear()

    def end(name: str) -> None:
        nonlocal takes_text, aside
        takes_text = False
        aside -= name == "rPh"
        if name == "si":
            texts.append(plain_text("".join(pieces)))

    def text(piece: str) -> None:
        if takes_text:
            pieces.append(piece)

    walk(part, start, end, text)
    return tuple(texts)


def formats_alone(part: bytes) -> bytes:
    """The number formats of a styles part, written anew without all else. Raises BrokenXml."""
    codes: dict[int, str] = {}
    cells: list[int] = []
    inside: list[str] = []

    def start(name: str, attributes: Attributes) -> None:
        inside.append(name)
        number = attributes.get("numFmtId", "0")
        if name == "numFmt":
            codes[_number(number)] = attributes.get("formatCode", "")
        elif name == "xf" and inside[-2:-1] == ["cellXfs"]:
            cells.append(_number(number))

    def end(_: str) -> None:
        inside.pop()

    walk(part, start, end)
    if max(len(codes), len(cells)) > _MOST_FORMATS:
        raise BrokenXml
    return _styles(codes, cells)


def _number(text: str) -> int:
    if not (text.isdecimal() and len(text) < 10):
        raise BrokenXml
    return int(text)


def _styles(codes: dict[int, str], cells: Sequence[int]) -> bytes:
    formats = "".join(f"<numFmt numFmtId='{number}' formatCode='{escape(code)}'/>" for number, code in codes.items())
    xfs = "".join(f"<xf numFmtId='{number}'/>" for number in cells)
    return (
        '<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
        f'<numFmts count="{len(codes)}">{formats}</numFmts><cellXfs count="{len(cells)}">{xfs}</cellXfs></styleSheet>'
    ).encode()
