"""Content lines of iCalendar (RFC 5545, 3.1): what stands in one line, and the folded octets of all."""

import re
from collections.abc import Iterable

LINE_OCTETS = 75
"""Most octets of a line, its break not counted (3.1)."""

CONTROLS = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")
"""Control characters, which may stand nowhere (3.1), but for tab and line break."""

BREAKS = re.compile("[\x85\u2028\u2029]")
"""Line breaks of Unicode: lawful in a text, but some readers part lines at them."""


def text_line(name: str, text: str) -> str:
    """A property whose value is TEXT, on one unfolded line; what would end or part the value is escaped (3.3.11)."""
    value = plain(text).replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,").replace("\n", "\\n")
    return f"{name}:{value}"


def plain(text: str) -> str:
    """The text without control characters, but with its line breaks and tabs."""
    return BREAKS.sub(" ", CONTROLS.sub("", text))


def octets(lines: Iterable[str]) -> bytes:
    """The lines in UTF-8, each folded and ended by CRLF."""
    return b"".join(_folded(line) for line in lines)


def _folded(line: str) -> bytes:
    """The octets of one line, parted between characters so that no part is over the limit."""
    whole, parts = line.encode(), []
    start, most = 0, LINE_OCTETS
    while len(whole) - start > most:
        end = start + most
        while whole[end] & 0xC0 == 0x80:  # within a character of UTF-8
            end -= 1
        parts.append(whole[start:end])
        start, most = end, LINE_OCTETS - 1
    return b"\r\n ".join([*parts, whole[start:]]) + b"\r\n"
